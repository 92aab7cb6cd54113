declare namespace PDFKit {
  interface PDFDocument {
    /** The document catalog, which pdfkit has no public way to add to. */
    readonly _root: { readonly data: Record<string, unknown> }
    /** Reads a picture before it is drawn; throws when it is none that pdfkit knows. */
    openImage(source: Buffer): PDFKit.Mixins.ImageSrc
  }
}
