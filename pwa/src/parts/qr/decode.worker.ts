/** Looks for a QR code in a picture, beside the page: on a phone it takes longer than the page may stand still. */
import { decodeQR } from "qr/decode.js";

interface Asked { readonly width: number; readonly height: number; readonly data: ArrayBuffer }

addEventListener("message", ({ data: { width, height, data } }: MessageEvent<Asked>) => {
  let text = "";
  try {
    text = decodeQR({ width, height, data: new Uint8ClampedArray(data) });
  } catch {
    // no code in this picture: the next one comes soon
  }
  postMessage(text);
});
