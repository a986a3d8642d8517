import { v7 as uuid } from 'uuid';
import * as balances from '@/lib/data/balances.read';
import * as books from '@/lib/data/books.read';
import * as cardsRead from '@/lib/data/cards.read';
import * as cards from '@/lib/data/cards.write';
import * as documentsRead from '@/lib/data/documents.read';
import * as documents from '@/lib/data/documents.write';
import * as ledgerRead from '@/lib/data/ledger.read';
import * as ledger from '@/lib/data/ledger.write';
import * as packsRead from '@/lib/data/packs.read';
import * as packs from '@/lib/data/packs.write';
import * as payersRead from '@/lib/data/payers.read';
import * as payers from '@/lib/data/payers.write';
import * as policies from '@/lib/data/policies.read';
import * as pricesRead from '@/lib/data/prices.read';
import * as prices from '@/lib/data/prices.write';
import { PLAIN_POLICY } from '@/lib/domain/billing/policy';
import type { CardPaymentId, LedgerEntryId, PackId, PriceId } from '@/lib/domain/shared/ids';
import { aFacts } from '../domain/billing/document-facts';
import {
  done,
  fresh,
  has,
  LEADS,
  PLAYERS_SIDE,
  PLAYERS_SIDE_AND_STAFF,
  row,
  self,
  STAFF,
  system,
  type Row,
} from '../support/matrix';

// The rows of `matrix-rows.ts` about money. Here the player pays.

const at = new Date('2026-06-01T12:00:00Z');
const BEGINNING = new Date('2000-01-01T00:00:00Z');
const END = new Date('2100-01-01T00:00:00Z');
/** The payer's family, and leads; coaches see what a lesson costs on the lesson. */
const PAYERS = { ...PLAYERS_SIDE, ...LEADS };

export const MONEY_ROWS: Record<string, Record<string, Row>> = {
  'balances.read': {
    listOwed: row(LEADS, (v) => balances.listOwed(v, { take: 500 }), ((
      answer: balances.OwedPage,
      t: { returned: { id: string } },
    ) => answer.rows.some((one) => one.lesson?.id === t.returned.id)) as never),
    listToGiveBack: row(LEADS, (v) => balances.listToGiveBack(v, 500), ((
      answer: balances.BalanceLine[],
      t: { player: { id: string } },
    ) => answer.some((one) => one.payer.id === t.player.id)) as never),
    listFamilyOpen: row(PLAYERS_SIDE, (v) => balances.listFamilyOpen(v), ((
      answer: balances.BalanceLine[],
      t: { returned: { id: string } },
    ) => answer.some((one) => one.lesson?.id === t.returned.id)) as never),
    listFamilySettled: row(PLAYERS_SIDE, (v) => balances.listFamilySettled(v, { take: 500 }), ((
      answer: balances.OwedPage,
      t: { player: { id: string } },
    ) => answer.rows.some((one) => one.payer.id === t.player.id)) as never),
  },
  'books.read': {
    listMonths: self((v) => books.listMonths(v)),
    listBook: row(LEADS, (v) => books.listBook(v, { from: BEGINNING, to: END }), ((
      answer: books.BookRow[],
      t: { returned: { id: string } },
    ) => answer.some((one) => one.lessonId === t.returned.id)) as never),
  },
  'cards.read': {
    listCardPayments: row(
      PLAYERS_SIDE,
      (v) => cardsRead.listCardPayments(v, BEGINNING),
      has('id', (t: never) => (t as { card: { id: string } }).card.id),
    ),
  },
  'cards.write': {
    createCardPayment: row(PLAYERS_SIDE, (v, t, tx) =>
      cards.createCardPayment(v, tx, {
        id: fresh<CardPaymentId>(),
        subject: `lesson:${t.returned.id}`,
        at,
      }),
    ),
    // Who began it notes it: here the player did.
    noteCardSession: row({ player: ['own', 'bare'] }, (v, t, tx) =>
      done(cards.noteCardSession(v, tx, t.card.id, `cs_${uuid()}`)),
    ),
  },
  'cards.system': {
    takeCardEvent: system('a signed message of the payment service is noted'),
    settleCardPayment: system('a signed message of the payment service moves the payment it names'),
    createCardReceipt: system('called for the entry that a settled card payment became'),
  },
  'documents.read': {
    readDocument: row(PAYERS, (v, t) => documentsRead.readDocument(v, t.document.id)),
    listDocuments: row(
      PAYERS,
      async (v) => (await documentsRead.listDocuments(v, 'program', { take: 500 })).rows,
      has('id', (t: never) => (t as { document: { id: string } }).document.id),
    ),
  },
  'documents.write': {
    createDocument: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) =>
      documents.createDocument(v, tx, {
        entryId: t.charge.id,
        kind: 'invoice',
        facts: aFacts(),
        at,
      }),
    ),
  },
  'ledger.read': {
    listLedger: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) => ledgerRead.listLedger(v, t.returned.id, tx)),
  },
  'ledger.write': {
    appendEntry: row(STAFF, (v, t, tx) =>
      ledger.appendEntry(v, tx, {
        id: fresh<LedgerEntryId>(),
        lessonId: t.returned.id,
        payerId: t.player.id,
        kind: 'waiver',
        amountMinor: 4500,
        currency: 'USD',
        reason: 'First lesson',
        at,
      }),
    ),
    appendPackEntry: row(LEADS, (v, t, tx) =>
      ledger.appendPackEntry(v, tx, {
        id: fresh<LedgerEntryId>(),
        packId: t.pack.id,
        payerId: t.player.id,
        kind: 'payment',
        amountMinor: 100,
        currency: 'USD',
        reason: '',
        at,
      }),
    ),
    appendPayerEntry: row(LEADS, (v, t, tx) =>
      ledger.appendPayerEntry(v, tx, {
        id: fresh<LedgerEntryId>(),
        payerId: t.player.id,
        kind: 'refund',
        amountMinor: 100,
        currency: 'USD',
        reason: 'Paid twice',
        at,
      }),
    ),
    promiseBack: row(PLAYERS_SIDE_AND_STAFF, async (v, t, tx) => {
      await ledger.promiseBack(v, tx, t.withdrawn.id, 100);
      return true;
    }),
  },
  'packs.read': {
    listUsablePacks: row(PLAYERS_SIDE_AND_STAFF, (v, t) => packsRead.listUsablePacks(v, t.player.id, at)),
    listPacks: row(
      PAYERS,
      async (v) => (await packsRead.listPacks(v, 'program', { take: 500 })).rows,
      has('id', (t: never) => (t as { pack: { id: string } }).pack.id),
    ),
    lockUsablePack: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) =>
      packsRead.lockUsablePack(v, tx, t.pack.id, t.player.id),
    ),
    lockPack: row(PAYERS, (v, t, tx) => packsRead.lockPack(v, tx, t.pack.id)),
  },
  'packs.write': {
    createPack: row(LEADS, (v, t, tx) =>
      packs.createPack(v, tx, {
        id: fresh<PackId>(),
        payerId: t.player.id,
        priceId: t.pack.priceId as PriceId,
        label: 'Five lessons',
        lessons: 5,
        amountMinor: 20000,
        currency: 'USD',
        policy: PLAIN_POLICY,
        soldAt: at,
        validUntil: END,
      }),
    ),
  },
  'payers.read': {
    readPayer: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) => payersRead.readPayer(v, t.returned.id, at, tx)),
    listPayers: row(
      LEADS,
      async (v, _t, tx) => (await payersRead.listPayers(v, at, '', tx)).rows,
      has('id', (t: never) => (t as { guardian: { id: string } }).guardian.id),
    ),
    readPayerOf: row(LEADS, (v, t, tx) => payersRead.readPayerOf(v, t.player.id, at, tx)),
  },
  'payers.write': {
    lockPayer: row(LEADS, (v, t, tx) => payers.lockPayer(v, tx, t.player.id)),
  },
  'policies.read': {
    readPolicy: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) => policies.readPolicy(v, t.returned.id, tx)),
  },
  'prices.read': {
    listPrices: self((v, tx) => pricesRead.listPrices(v, tx)),
    listOldPrices: self((v) => pricesRead.listOldPrices(v)),
  },
  'prices.write': {
    savePrice: row({ lead: ['own', 'other', 'bare', 'elsewhere'] }, (v, _t, tx) =>
      prices.savePrice(v, tx, {
        kind: 'lesson',
        seriesId: uuid(),
        label: 'New',
        lessons: 1,
        validDays: null,
        amountMinor: 1,
        currency: 'USD',
        at,
      }),
    ),
    retirePrice: row(LEADS, (v, t, tx) => done(prices.retirePrice(v, tx, t.packPrice.seriesId, at))),
  },
};
