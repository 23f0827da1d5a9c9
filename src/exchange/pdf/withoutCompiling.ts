/** How many do without at present, and what was there before the first of them. */
let without = 0;
let compile: typeof WebAssembly.Module | null = null;

/**
 * Does `work` while nothing can be compiled at once. The library would turn the arithmetic of a colour that is written in
 * the file (ISO 32000-1, 7.10.5) into machine code; refused that, it works it out step by step, with the same colour. Its
 * own option turns off its picture decoders as well. These are compiled in another way, which stays open.
 */
export async function withoutCompiling<T>(work: () => Promise<T>): Promise<T> {
  if (typeof WebAssembly === 'undefined') return work();
  if (without === 0) {
    compile = WebAssembly.Module;
    WebAssembly.Module = refused as never;
  }
  without++;
  try {
    return await work();
  } finally {
    without--;
    if (without === 0 && compile !== null) WebAssembly.Module = compile;
  }
}

function refused(): never {
  throw new Error('Nothing in a file is compiled.');
}
