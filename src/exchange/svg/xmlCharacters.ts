/** Character work of the XML reader: names, white space, and the references XML itself knows. */

const builtIn: ReadonlyMap<string, string> = new Map([
  ['amp', '&'],
  ['lt', '<'],
  ['gt', '>'],
  ['quot', '"'],
  ['apos', "'"],
]);

export function isSpace(code: number): boolean {
  return code === 32 || code === 10 || code === 9 || code === 13;
}

/** Letters, digits, `_ : . -` and everything above ASCII; XML's finer table is not needed to tell tags apart. */
export function isNameCharacter(code: number): boolean {
  return (
    (code >= 97 && code <= 122) ||
    (code >= 65 && code <= 90) ||
    (code >= 48 && code <= 58) ||
    code === 95 ||
    code === 45 ||
    code === 46 ||
    code >= 128
  );
}

export function isNameStart(code: number): boolean {
  return isNameCharacter(code) && !((code >= 48 && code <= 57) || code === 45 || code === 46);
}

/**
 * A raw text with its references decoded: the five built-in ones and character numbers. One pass, no re-reading of
 * what a reference stood for, so nothing can grow. Null when it uses any other reference.
 */
export function decodeReferences(raw: string): string | null {
  let at = raw.indexOf('&');
  if (at < 0) return raw;
  const parts: string[] = [];
  let from = 0;
  while (at >= 0) {
    const end = raw.indexOf(';', at);
    if (end < 0 || end - at > 12) return null;
    const decoded = decodeOne(raw.slice(at + 1, end));
    if (decoded === null) return null;
    parts.push(raw.slice(from, at), decoded);
    from = end + 1;
    at = raw.indexOf('&', from);
  }
  parts.push(raw.slice(from));
  return parts.join('');
}

function decodeOne(name: string): string | null {
  const known = builtIn.get(name);
  if (known !== undefined) return known;
  const digits = /^#(?:x([0-9a-fA-F]{1,6})|([0-9]{1,7}))$/.exec(name);
  if (!digits) return null;
  const code = digits[1] !== undefined ? Number.parseInt(digits[1], 16) : Number(digits[2]);
  const allowed = code === 9 || code === 10 || code === 13 || (code >= 32 && code <= 0x10ffff);
  return allowed && !(code >= 0xd800 && code <= 0xdfff) ? String.fromCodePoint(code) : null;
}
