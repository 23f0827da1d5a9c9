/** A file of the library's package, written into the program as a data URL. */
declare module 'pdfjs-dist/wasm/*&inline' {
  const dataUrl: string;
  export default dataUrl;
}
