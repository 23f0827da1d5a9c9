import { fail, type Outcome, succeed } from '../geometry/outcome';
import { parseNumber, plainNumberText } from './numberText';

const radiansPerDegree = Math.PI / 180;

/** Reads degrees (`14.3`, `14,3°`, `-5 deg`) and gives radians. Angles of a full turn and more are refused. */
export function parseAngle(text: string): Outcome<number> {
  const plain = plainNumberText(text);
  const form = /^(-?)\s*([\d.,/ ]+?)\s*(?:°|º|deg\.?|degrees?)?$/i.exec(plain);
  const number = form ? parseNumber(form[2]!) : null;
  if (!number)
    return fail('angle-unreadable', `“${text.trim()}” is not an angle I can read. Type degrees, for example 14.3.`);
  if (!number.ok) return number;
  if (number.value >= 360) return fail('angle-too-large', 'An angle must be less than 360 degrees.');
  return succeed(number.value === 0 ? 0 : (form![1] === '-' ? -number.value : number.value) * radiansPerDegree);
}

/** Writes radians as degrees, `14.3°`, to one decimal unless told otherwise. */
export function formatAngle(radians: number, decimals = 1): string {
  const text = (radians / radiansPerDegree).toFixed(decimals);
  return `${/^-[0.]*$/.test(text) ? text.slice(1) : text}°`;
}
