/** A text DXF file turned into the binary form, with codes of two bytes (`wide`, release 13 on) or one. */
export function asBinary(text: string, wide = true): Uint8Array {
  const out: number[] = [...'AutoCAD Binary DXF\r\n\u001a\u0000'].map((letter) => letter.charCodeAt(0));
  const put = (size: number, write: (view: DataView) => void) => {
    const view = new DataView(new ArrayBuffer(size));
    write(view);
    out.push(...new Uint8Array(view.buffer));
  };
  const lines = text.split(/\r?\n/);
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const code = Number(lines[i]);
    const value = lines[i + 1]!;
    if (code === 999) continue;
    if (wide) put(2, (view) => view.setInt16(0, code, true));
    else if (code < 255) out.push(code);
    else {
      out.push(255);
      put(2, (view) => view.setInt16(0, code, true));
    }
    if ((code >= 10 && code <= 59) || (code >= 210 && code <= 239)) put(8, (v) => v.setFloat64(0, Number(value), true));
    else if ((code >= 60 && code <= 79) || (code >= 370 && code <= 379))
      put(2, (v) => v.setInt16(0, Number(value), true));
    else if ((code >= 90 && code <= 99) || (code >= 420 && code <= 429))
      put(4, (v) => v.setInt32(0, Number(value), true));
    else out.push(...[...value].map((letter) => letter.charCodeAt(0)), 0);
  }
  return new Uint8Array(out);
}
