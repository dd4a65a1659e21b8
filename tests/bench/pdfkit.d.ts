declare module "pdfkit" {
  /** The little of the library that the bench draws its peer letter with. */
  export default class PDFDocument {
    constructor(options: { readonly size: string; readonly margin: number });
    x: number;
    y: number;
    readonly page: { readonly height: number };
    registerFont(name: string, path: string): this;
    font(name: string): this;
    fontSize(size: number): this;
    text(text: string, x: number, y: number, options: { readonly width: number; readonly lineGap?: number }): this;
    heightOfString(text: string, options: { readonly width: number }): number;
    addPage(): this;
    moveTo(x: number, y: number): this;
    lineTo(x: number, y: number): this;
    stroke(): this;
    on(event: "data", listener: (chunk: Uint8Array) => void): this;
    on(event: "end", listener: () => void): this;
    end(): void;
  }
}
