/** Stands in for jspdf's optional HTML helpers, which are never called; keeps about 107 kB out of the bundle. */
export default undefined;
