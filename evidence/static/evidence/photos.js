// Make a photo small enough for a slow line: upright, its longest side 2048, and without the place
// and the phone that it carries. What the browser cannot draw goes as it is; the portal can.
const LONGEST = 2048;
const QUALITY = 0.86;

function isPhoto(file) {
  return file.type.startsWith("image/") && file.type !== "image/gif";
}

function drawn(picture) {
  const share = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * share);
  canvas.height = Math.round(picture.height * share);
  const pen = canvas.getContext("2d");
  pen.fillStyle = "white"; // what is clear in a drawing would turn black
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.imageSmoothingQuality = "high";
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", QUALITY));
}

// Give the file to send in place of this one: a smaller JPEG, or the file itself.
export async function smaller(file) {
  if (!isPhoto(file) || !window.createImageBitmap) return file;
  let picture = null;
  try {
    picture = await createImageBitmap(file, { imageOrientation: "from-image" });
    const made = await drawn(picture);
    return made && made.size < file.size ? made : file;
  } catch {
    return file;
  } finally {
    picture?.close();
  }
}
