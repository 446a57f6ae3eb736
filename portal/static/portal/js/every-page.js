// What every page does.
import "./speak.js";
import "./confirm.js";
import "./number-keys.js";
