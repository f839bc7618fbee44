import type { FigureSvg } from "./figure-svg.ts";

/** Pixels of the picture for one of the drawing. */
const SCALE = 2;

/** A drawing as a picture. */
export async function figurePng({ text, width, height }: FigureSvg): Promise<Blob> {
  const image = new Image(width * SCALE, height * SCALE);
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(text)}`;
  await image.decode();
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(width * SCALE);
  canvas.height = Math.round(height * SCALE);
  canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve, reject) => {
    canvas.toBlob(
      (blob) => (blob === null ? reject(new Error("The picture could not be made")) : resolve(blob)),
      "image/png",
    );
  });
}
