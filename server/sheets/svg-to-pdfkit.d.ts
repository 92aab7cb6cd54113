declare module 'svg-to-pdfkit' {
  /** Draws an SVG into a document, its upper left corner at (x, y) in points. */
  export default function svgToPdf(
    doc: PDFKit.PDFDocument,
    svg: string,
    x: number,
    y: number,
    options: { readonly width: number; readonly height: number; readonly preserveAspectRatio?: string },
  ): void
}
