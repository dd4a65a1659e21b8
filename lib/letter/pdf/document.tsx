import { Document, type DocumentProps, Link, Page, renderToBuffer, Text, View } from "@react-pdf/renderer";
import type { ReactElement } from "react";
import { linesOf } from "../../drawing/lettering.ts";
import { anchorsIn } from "../anchors.ts";
import type { Block, Letter } from "../blocks.ts";
import { BODY } from "../sheets/measures.ts";
import { AnchorsOf, BlockView, ChangedOf } from "./blocks.tsx";
import { withFields } from "./fields.ts";
import { CONTINUED, sheet } from "./sheetStyle.ts";
import { styles } from "./style.ts";

/** The address for answers; one that is a mail address can be clicked. */
const Contact = ({ contact }: { readonly contact: string }): ReactElement =>
  /^[^@\s]+@[^@\s]+\.[^@\s]+$/.test(contact) ? (
    <Link src={`mailto:${contact}`} style={styles.plainLink}>
      {contact}
    </Link>
  ) : (
    <Text>{contact}</Text>
  );

/** Heights of the paper, and where the foot begins above its lower edge, in points. */
const HEIGHTS = { A4: 842, Letter: 792 } as const;
const FOOT = 36;

/** What a sheet that is carried aboard is called, where one begins: a page that has come loose is known by it. */
const sheetNameOf = (block: Block | undefined): string | undefined => {
  const first = block?.kind === "sheetTogether" ? block.blocks[0] : undefined;
  return first?.kind === "sheetHeading" ? `${first.note}: ${first.text}` : undefined;
};

/** A name over the lines that a page's head has room for. The layout wraps nothing that is there on some pages only, and keeps one line of it: it is broken here, and each line stands for itself. */
const nameLines = (name: string): readonly string[] => {
  const lines = linesOf(name, BODY, CONTINUED.width);
  return [...lines.slice(0, 1), lines.slice(1).join(" ")].filter((line) => line !== "");
};

/** The parts of a paper that begin on a page of their own. The layout's time grows with the square of a part's length. */
const partsOf = (blocks: readonly Block[]): readonly (readonly Block[])[] => {
  const parts: Block[][] = [[]];
  for (const block of blocks) {
    if (block.kind === "newPage" || (sheetNameOf(block) !== undefined && parts.at(-1)?.length !== 0)) parts.push([]);
    if (block.kind !== "newPage") parts.at(-1)?.push(block);
  }
  return parts;
};

/** What is signed stands on one page with its last section, so that no page holds a signature alone. */
const sectionsOf = (blocks: readonly Block[]): readonly (readonly Block[])[] => {
  const last = blocks.some(({ kind }) => kind === "signature") ? blocks.findLastIndex(({ kind }) => kind === "heading") : -1;
  return last < 0 ? [blocks] : [blocks.slice(0, last), blocks.slice(last)];
};

/** Who writes to whom, when and of what. */
const Head = ({ letter }: { readonly letter: Letter }): ReactElement => (
  <>
    <Text style={styles.office}>{letter.office.name}</Text>
    <Text style={styles.small}>
      {letter.office.address.map((line) => `${line}  ·  `)}
      <Contact contact={letter.office.contact} />
    </Text>
    <View style={{ flexDirection: "row", justifyContent: "space-between", paddingTop: 14 }}>
      <View style={{ width: "68%" }}>
        {letter.to.map((line) => (
          <Text key={line}>{line}</Text>
        ))}
      </View>
      <View style={{ width: "30%", alignItems: "flex-end" }}>
        <Text>{letter.date}</Text>
        <Text style={styles.strong}>{letter.reference}</Text>
      </View>
    </View>
    <Text style={styles.subject}>{letter.subject}</Text>
  </>
);

const hasForm = ({ blocks }: Letter): boolean => blocks.some(({ kind }) => kind === "form");

const LetterDocument = ({ letter }: { readonly letter: Letter }): ReactElement<DocumentProps> => {
  const { office } = letter;
  const anchors = anchorsIn(letter.blocks);
  const changed = new Set(letter.changed);
  // The date of the letter, so that the same letter is the same file.
  const made = new Date(`${letter.isoDate}T12:00:00Z`);
  return (
    <Document
      title={letter.title}
      author={office.name}
      subject={letter.subject}
      language="en"
      creator="Forehail"
      producer="Forehail"
      creationDate={made}
      modificationDate={made}
      pageLayout="singlePage"
      pdfVersion="1.7"
      // A form that can still be filled in cannot be kept as an archive's file.
      {...(hasForm(letter) ? {} : { conformance: "PDF/A-2b" as const })}
    >
      {partsOf(letter.blocks).map((blocks, part) => (
        <Page
          key={JSON.stringify(blocks[0] ?? part)}
          size={letter.paper === "A4" ? "A4" : "LETTER"}
          style={styles.page}
          {...(part === 0 ? { bookmark: letter.subject } : {})}
        >
          <View style={styles.header} fixed>
            <Text>{office.name}</Text>
            <Text>{letter.reference}</Text>
          </View>
          {nameLines(sheetNameOf(blocks[0]) ?? "").map((line, place, { length }) => (
            <View key={line} style={[sheet.continued, { top: CONTINUED.foot - (length - place) * CONTINUED.line }]} fixed>
              <Text style={sheet.oneLine} render={({ subPageNumber }) => (subPageNumber > 1 ? line : "")} />
            </View>
          ))}
          <View style={[styles.footer, { top: HEIGHTS[letter.paper] - FOOT }]} fixed>
            <Text>{letter.statement}</Text>
            <Text render={({ pageNumber, totalPages }) => `Page ${pageNumber} of ${totalPages}`} />
          </View>
          {part === 0 ? <Head letter={letter} /> : null}
          <AnchorsOf.Provider value={anchors}>
            <ChangedOf.Provider value={changed}>
              {sectionsOf(blocks).map((section) => (
                <View key={JSON.stringify(section[0])} wrap={!section.some(({ kind }) => kind === "signature")}>
                  {section.map((block) => (
                    <BlockView key={JSON.stringify(block)} block={block} />
                  ))}
                </View>
              ))}
            </ChangedOf.Provider>
          </AnchorsOf.Provider>
        </Page>
      ))}
    </Document>
  );
};

/** The letter as a PDF file. Blocks the thread it runs in; see the worker. */
export const pdfOf = async (letter: Letter): Promise<Uint8Array> => {
  const laidOut = await renderToBuffer(<LetterDocument letter={letter} />);
  return hasForm(letter) ? withFields(laidOut, letter.blocks) : laidOut;
};
