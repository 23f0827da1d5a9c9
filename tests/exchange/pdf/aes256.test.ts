import { createCipheriv, createHash } from 'node:crypto';
import { expect, it } from 'vitest';
import { readPdf } from '../../../src/exchange/pdf/readPdf';
import { pdfFile, textOfBytes } from './pdfText';

// A file locked with AES of 256 bits, revision 6 (ISO 32000-2, 7.6.4; qpdf 11.3 opens it with either password and
// finds no fault).
const text = (bytes: Uint8Array) => `<${Buffer.from(bytes).toString('hex')}>`;
const nothing = Buffer.alloc(16);

function cbc(bits: 128 | 256, key: Uint8Array, first: Uint8Array, data: Uint8Array, padded = false): Buffer {
  const cipher = createCipheriv(`aes-${bits}-cbc`, key, first).setAutoPadding(padded);
  return Buffer.concat([cipher.update(data), cipher.final()]);
}

/** Algorithm 2.B: the hash of a password, its salt, and for the owner's the 48 bytes of the user's. */
function hash(password: Buffer, salt: Buffer, user: Buffer = Buffer.alloc(0)): Buffer {
  let key = createHash('sha256')
    .update(Buffer.concat([password, salt, user]))
    .digest();
  for (let round = 0, last = 0; round < 64 || last > round - 32; round++) {
    const one = Buffer.concat([password, key, user]);
    const sealed = cbc(128, key.subarray(0, 16), key.subarray(16, 32), Buffer.concat(Array(64).fill(one)));
    const rest = sealed.subarray(0, 16).reduce((sum, byte) => sum + byte, 0) % 3;
    key = createHash(['sha256', 'sha384', 'sha512'][rest]!).update(sealed).digest();
    last = sealed.at(-1)!;
  }
  return key.subarray(0, 32);
}

function locked(userPassword: string, ownerPassword: string): Uint8Array {
  const key = createHash('sha256').update('the key of the file').digest();
  const word = (password: string, salts: string, of?: Buffer) => {
    const [plain, check, open] = [Buffer.from(password), Buffer.from(salts.slice(0, 8)), Buffer.from(salts.slice(8))];
    return {
      check: Buffer.concat([hash(plain, check, of), check, open]),
      key: cbc(256, hash(plain, open, of), nothing, key),
    };
  };
  const user = word(userPassword, 'saltUserkeysUser');
  const owner = word(ownerPassword, 'saltOwnrkeysOwnr', user.check);
  const rights = Buffer.concat([Buffer.from([0xfc, 255, 255, 255, 255, 255, 255, 255]), Buffer.from('Tadbabcd')]);
  const perms = createCipheriv('aes-256-ecb', key, null).setAutoPadding(false).update(rights);
  const first = Buffer.from('sixteen letters.');
  const drawing = Buffer.concat([first, cbc(256, key, first, Buffer.from('10 10 m 100 10 l 100 90 l S'), true)]);
  const dictionary = `<< /Filter /Standard /V 5 /R 6 /Length 256 /P -4 /O ${text(owner.check)} /U ${text(user.check)} /OE ${text(owner.key)} /UE ${text(user.key)} /Perms ${text(perms)} /StmF /StdCF /StrF /StdCF /CF << /StdCF << /CFM /AESV3 /AuthEvent /DocOpen /Length 32 >> >> >>`;
  const file = pdfFile(
    [{ content: textOfBytes(drawing) }],
    [{ number: 100, dictionary }],
    '',
    '/Encrypt 100 0 R /ID [<00> <00>]',
  );
  return file;
}

it('R24 a file locked with AES of 256 bits is asked for without its password; one that only its owner may change is read', async () => {
  const refused = await readPdf(locked('secret', 'owner'));
  expect(refused).toMatchObject({ ok: false, code: 'pdf-locked' });
  expect(!refused.ok && refused.sentence).toMatch(/^This file is locked with a password\. .* save a copy without one/);
  const open = await readPdf(locked('', 'owner'));
  expect(open.ok && open.value.pages[0]!.shapes.map(({ path }) => path.length)).toEqual([2]);
});
