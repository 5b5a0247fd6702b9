// The rows of readings and the letters on the drawing of the piece light up together.

import { lights } from "./light.js";

const piece = document.getElementById("measured");
if (piece) lights(piece);
