/** The camera on the back of a phone, and the codes before it. Nothing of a picture is kept or sent. */

export type NoCamera = "refused" | "none" | "busy" | "not here";

/** Opens the camera into a video; returns how to close it again, or why it does not open. */
export async function openCamera(video: HTMLVideoElement): Promise<(() => void) | NoCamera> {
  if (!("mediaDevices" in navigator)) return "not here"; // browsers hide it where the address is no secure one
  let stream: MediaStream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment", width: { ideal: 1920 }, height: { ideal: 1080 } }, audio: false });
  } catch (cause) {
    return REASONS[cause instanceof DOMException ? cause.name : ""] ?? "busy";
  }
  video.srcObject = stream;
  await video.play().catch(() => undefined);
  return () => {
    for (const track of stream.getTracks()) track.stop();
    video.srcObject = null;
  };
}

const REASONS: Readonly<Record<string, NoCamera>> = { NotAllowedError: "refused", SecurityError: "refused", NotFoundError: "none", OverconstrainedError: "none" };

export interface Reader { read(video: HTMLVideoElement): Promise<string>; close(): void }

interface Detector { detect(source: HTMLVideoElement): Promise<readonly { readonly rawValue: string }[]> }
interface DetectorClass { new (options: { formats: readonly string[] }): Detector; getSupportedFormats(): Promise<readonly string[]> }

/** Returns what reads codes here: the browser's own way where it has one, else the decoder we keep. */
export async function makeReader(): Promise<Reader> {
  const own = (globalThis as { BarcodeDetector?: DetectorClass }).BarcodeDetector;
  const formats = (await own?.getSupportedFormats().catch(() => [])) ?? [];
  return own && formats.includes("qr_code") ? browsersOwn(new own({ formats: ["qr_code"] })) : kept();
}

const browsersOwn = (detector: Detector): Reader => ({
  read: async (video) => (await detector.detect(video).catch(() => []))[0]?.rawValue ?? "",
  close: () => undefined,
});

const LARGEST_PX = 1080; // chosen: the short side of the picture we ask for

function kept(): Reader {
  const worker = new Worker(new URL("./decode.worker.ts", import.meta.url), { type: "module" });
  const canvas = document.createElement("canvas");
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  return {
    read: (video) => new Promise((resolve, reject) => {
      const side = Math.min(video.videoWidth, video.videoHeight);
      const size = Math.min(side, LARGEST_PX);
      if (!pen || size === 0) return resolve("");
      canvas.width = canvas.height = size; // the middle of the picture: there the code is held
      pen.drawImage(video, (video.videoWidth - side) / 2, (video.videoHeight - side) / 2, side, side, 0, 0, size, size);
      const { data } = pen.getImageData(0, 0, size, size);
      worker.onmessage = ({ data: text }: MessageEvent<string>) => resolve(text);
      worker.onerror = () => reject(new Error("the decoder could not be loaded"));
      worker.postMessage({ width: size, height: size, data: data.buffer }, [data.buffer]);
    }),
    close: () => worker.terminate(),
  };
}

/** Reads picture after picture, as they come, until told to stop. Returns how to stop. */
export function watch(video: HTMLVideoElement, reader: Reader, onText: (text: string) => void, onFail: () => void): () => void {
  let going = true;
  const next = (): void => {
    if (!going) return;
    if ("requestVideoFrameCallback" in video) video.requestVideoFrameCallback(() => void look());
    else requestAnimationFrame(() => void look());
  };
  const look = async (): Promise<void> => {
    if (!going) return;
    try {
      const text = await reader.read(video);
      if (going && text) onText(text);
      next();
    } catch {
      if (going) onFail();
    }
  };
  next();
  return () => void (going = false);
}
