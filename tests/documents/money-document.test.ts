import { extractText, getDocumentProxy, getMeta } from 'unpdf';
import { describe, expect, test } from 'vitest';
import type { DocumentFacts, DocumentKind } from '@/lib/domain/billing/documents';
import { renderMoneyDocument } from '@/lib/documents/money-document';
import { aFacts } from '../domain/billing/document-facts';

// What a reader of PDF gets out of the file, by another library than the one that wrote it (PDF.js).
const read = async (kind: DocumentKind, over: Partial<DocumentFacts> = {}) => {
  const at = new Date('2026-06-02T02:30:00Z');
  const bytes = await renderMoneyDocument({ kind, number: 12, at, facts: aFacts(over) });
  const pdf = await getDocumentProxy(bytes);
  const { text } = await extractText(pdf, { mergePages: true });
  const { info } = await getMeta(pdf);
  return { text: text.replace(/\s+/g, ' '), pages: pdf.numPages, title: info.Title as string };
};

describe('a document as PDF', () => {
  test('an invoice says who, what, how much, until when and how to pay', async () => {
    const { text, pages, title } = await read('invoice', { terms: 'Two days’ notice.' });
    expect(pages).toBe(1);
    expect(title).toBe('Invoice 12');
    for (const words of [
      'Maple Street Hitting',
      'Invoice 12',
      'For Robin Sample',
      // The day in the program's zone: still the first of June in Chicago.
      'Date: 1 June 2026',
      'Due: 15 June 2026',
      'One lesson, number 3',
      'To pay $45.00',
      'Bank transfer with your name.',
      'Two days’ notice.',
    ]) {
      expect(text).toContain(words);
    }
  });

  test('a receipt says how it was paid and what is left, and does not ask to pay', async () => {
    const over = { method: 'Cash', totalMinor: 2000, stillOwedMinor: 2500, dueAt: null };
    const { text } = await read('receipt', over);
    for (const words of ['Receipt 12', 'By: Cash', 'Received $20.00', 'Still owed $25.00']) {
      expect(text).toContain(words);
    }
    expect(text).not.toContain('Bank transfer with your name.');
    expect(text).not.toContain('Due:');
  });

  test('a credit note says why', async () => {
    const { text } = await read('credit_note', {
      reason: 'Rained out',
      method: 'Bank transfer',
      dueAt: null,
    });
    for (const words of ['Credit note 12', 'Why: Rained out', 'Given back $45.00'])
      expect(text).toContain(words);
  });

  test('writes names in every Latin letter, and currencies with their own decimals', async () => {
    const name = 'Želmíra Łukasiewicz-Ðorđević Ñandú';
    const { text } = await read('invoice', { payerName: name, currency: 'JPY', totalMinor: 4500 });
    expect(text).toContain(`For ${name}`);
    expect(text).toContain('¥4,500');
  });

  test('goes on to a second page rather than losing a line', async () => {
    const lines = Array.from({ length: 60 }, (_, index) => ({
      label: `Line ${index + 1}.`,
      amountMinor: 100,
    }));
    const { text, pages } = await read('invoice', { lines, totalMinor: 6000 });
    expect(pages).toBeGreaterThan(1);
    for (const line of lines) expect(text).toContain(line.label);
  });
});
