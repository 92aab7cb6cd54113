declare namespace PDFKit {
  interface PDFDocument {
    /** The document catalog, which pdfkit has no public way to add to. */
    readonly _root: { readonly data: Record<string, unknown> }
  }
}
