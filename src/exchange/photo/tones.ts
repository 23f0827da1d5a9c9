/**
 * Light in proportion to a coded byte, 0 to 1 (IEC 61966-2-1, sRGB). A lens blurs light, not code: the middle of a
 * blurred edge is the place of half the light, which in code lies up to 0.4 of the blur's deviation to one side.
 */
export const light: Float32Array = Float32Array.from({ length: 256 }, (_, code) => {
  const c = code / 255;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
});

/** Parts of red, green and blue in brightness (ITU-R BT.709). */
export const brightness = [0.2126, 0.7152, 0.0722] as const;

/** Bytes of opacity below this are no picture. */
export const seenOpacity = 128;
