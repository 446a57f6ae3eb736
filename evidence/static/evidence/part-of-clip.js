// Choose which part of a clip that is too long is sent: where it begins is seen as one moves it.
import { clock } from "./voice.js";

// *line*: the clip in the list of what was chosen. *longest*: seconds that can be sent.
export function offerPart(line, piece, address, longest) {
  const [film, place, said] = ["video", "[type=range]", "[data-from]"]
    .map((each) => line.querySelector(`[data-part] ${each}`));
  const show = () => {
    piece.from = Number(place.value);
    film.currentTime = piece.from;
    said.textContent = clock(piece.from);
    place.setAttribute("aria-valuetext", said.textContent);
  };
  line.querySelector("[data-part]").hidden = false;
  film.src = address;
  place.max = Math.ceil(piece.seconds - longest);
  place.value = piece.from ?? 0;
  place.addEventListener("input", show);
  show();
}
