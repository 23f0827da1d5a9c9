/** The library ships its worker part without types; nothing of it is used but its presence. */
declare module 'pdfjs-dist/legacy/build/pdf.worker.mjs';
