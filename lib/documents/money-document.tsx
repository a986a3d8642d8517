import path from 'node:path';
import { TZDate } from '@date-fns/tz';
import { Document, Font, Page, renderToBuffer, StyleSheet, Text, View } from '@react-pdf/renderer';
import { format } from 'date-fns';
import { documentName, type DocumentFacts, type DocumentKind } from '@/lib/domain/billing/documents';
import { formatMoney } from '@/lib/domain/billing/money';

/** A numbered document as it was frozen. */
export interface MoneyDocument {
  kind: DocumentKind;
  number: number;
  at: Date;
  facts: DocumentFacts;
}

const FONTS = 'node_modules/@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible';
const fontAt = (name: string) =>
  path.join(/*turbopackIgnore: true*/ process.cwd(), `${FONTS}-${name}-normal.woff`);

// The letters of a name come from two files: Latin, and the rest of the Latin script.
Font.register({
  family: 'Hyperlegible',
  fonts: [
    { src: fontAt('latin-400'), fontWeight: 400 },
    { src: fontAt('latin-700'), fontWeight: 700 },
  ],
});
Font.register({
  family: 'Hyperlegible more',
  fonts: [
    { src: fontAt('latin-ext-400'), fontWeight: 400 },
    { src: fontAt('latin-ext-700'), fontWeight: 700 },
  ],
});
Font.registerHyphenationCallback((word) => [word]);

const INK = '#1D2729';
const SOFT = '#4A5353';
const RULE = '#7F745C';

const styles = StyleSheet.create({
  page: {
    padding: 56,
    fontFamily: ['Hyperlegible', 'Hyperlegible more'],
    fontSize: 11,
    lineHeight: 1.5,
    color: INK,
  },
  title: { fontSize: 22, fontWeight: 700, marginBottom: 24, marginTop: 20 },
  facts: { marginBottom: 24 },
  row: {
    flexDirection: 'row',
    justifyContent: 'space-between',
    borderBottomWidth: 1,
    borderBottomColor: RULE,
    paddingVertical: 6,
  },
  label: { flexGrow: 1, flexShrink: 1, paddingRight: 24 },
  bold: { fontWeight: 700 },
  soft: { color: SOFT, marginTop: 16 },
});

const dayOf = (at: Date, timeZone: string) => format(new TZDate(at.getTime(), timeZone), 'd MMMM yyyy');

const TOTAL = { invoice: 'To pay', receipt: 'Received', credit_note: 'Given back' } as const;

const Line = ({ label, amount, isBold = false }: { label: string; amount: string; isBold?: boolean }) => (
  <View style={styles.row} wrap={false}>
    <Text style={isBold ? [styles.label, styles.bold] : styles.label}>{label}</Text>
    <Text style={isBold ? styles.bold : {}}>{amount}</Text>
  </View>
);

const Paper = ({ kind, number, at, facts }: MoneyDocument) => {
  const money = (minor: number) => formatMoney(minor, facts.currency);
  const { timeZone } = facts;
  return (
    <Document title={documentName(kind, number)} author={facts.programName} language="en">
      <Page size="A4" style={styles.page}>
        <Text style={styles.bold}>{facts.programName}</Text>
        <Text style={styles.title}>{documentName(kind, number)}</Text>
        <View style={styles.facts}>
          <Text>For {facts.payerName}</Text>
          <Text>Date: {dayOf(at, timeZone)}</Text>
          {facts.dueAt ? <Text>Due: {dayOf(new Date(facts.dueAt), timeZone)}</Text> : null}
          {facts.method ? <Text>By: {facts.method}</Text> : null}
          {facts.reason ? <Text>Why: {facts.reason}</Text> : null}
        </View>
        {facts.lines.map((line, index) => (
          <Line key={index} label={line.label} amount={money(line.amountMinor)} />
        ))}
        <Line label={TOTAL[kind]} amount={money(facts.totalMinor)} isBold />
        {kind === 'receipt' ? <Line label="Still owed" amount={money(facts.stillOwedMinor)} /> : null}
        {kind === 'invoice' && facts.howToPay ? <Text style={styles.soft}>{facts.howToPay}</Text> : null}
        {facts.terms ? <Text style={styles.soft}>{facts.terms}</Text> : null}
      </Page>
    </Document>
  );
};

/** The document as a PDF of one page or more. Only what was frozen in it stands on it. */
export async function renderMoneyDocument(document: MoneyDocument): Promise<Uint8Array> {
  return new Uint8Array(await renderToBuffer(<Paper {...document} />));
}
