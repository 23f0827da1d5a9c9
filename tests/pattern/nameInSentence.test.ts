import { expect, test } from 'vitest';
import { nameInSentence } from '../../src/pattern/nameInSentence';

test.each([
  ['Armhole', 'armhole'],
  ['Centre front', 'centre front'],
  ['hem', 'hem'],
  ['Ärmelloch', 'ärmelloch'],
  ['Edge 3', 'edge 3'],
  ['CF line', 'CF line'],
  ['Side A', 'Side A'],
  ['A', 'A'],
  ['', ''],
])('an edge called “%s” reads “%s” within a sentence', (name, words) => {
  expect(nameInSentence(name)).toBe(words);
});
