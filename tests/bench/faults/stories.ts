import { v7 as uuid } from 'uuid';
import type { Client } from 'pg';
import { emptyDraft } from '@/lib/domain/lessons/intake';
import { callServerAction, type ServerAction } from '../../support/action-client';
import { sessionEvent, sign } from '../../support/payment-service';
import { readySheet } from '../../workflows/lessons/academy';
import { type Book, outcomeOf, outcomeOfRoute } from './book';
import { later } from './waiting';
import type { Asker, World } from './world';

export const PRICE_MINOR = 4500;
const IN_CASH_MINOR = 2000;
const PACK_MINOR = 20_000;

export interface Stage {
  origin: string;
  actions: ReadonlyMap<string, ServerAction>;
  world: World;
  book: Book;
  webhookSecret: string;
  /** Runs SQL on the database as it is now; tries again while that is down. */
  sql: (text: string, values: unknown[]) => Promise<unknown>;
}

const pick = <T>(from: readonly T[]): T => from[Math.floor(Math.random() * from.length)]!;

/** One call of a server action, tried until it is acknowledged. */
const call = async (stage: Stage, name: string, by: Asker, args: object): Promise<unknown> => {
  const action = stage.actions.get(name);
  if (!action) throw new Error(`There is no action ${name} in this build.`);
  return stage.book.insist(name, async () =>
    outcomeOf(await callServerAction(stage.origin, action, [args], { cookie: by.cookie })),
  );
};

const LESSONS = 'app/lessons/actions.ts';
const BILLING = 'app/program/billing/actions.ts';

/** A player sends a lesson; answers its id. With a pack it is taken from that. */
async function submit(stage: Stage, player: Asker, packId: string | null): Promise<string> {
  const lessonId = uuid();
  const draft = {
    ...emptyDraft(),
    question: 'Do I fly open?',
    ...{ bats: 'right', pitchMode: 'tee', painLevel: 0 },
    clips: [{ id: uuid(), view: 'open_side', captureRate: null, focal35mm: null, isZoomed: null }],
  };
  await call(stage, `${LESSONS} startLessonAction`, player, {
    ...{ lessonId, playerId: player.id, followsId: null },
  });
  const sent = await call(stage, `${LESSONS} submitLessonAction`, player, { lessonId, draft, packId });
  stage.book.note('submit', lessonId, { number: (sent as { number: number }).number, packId });
  return lessonId;
}

/** A coach takes the lesson, judges it and gives it back; the player answers. */
async function returnIt(stage: Stage, player: Asker, lessonId: string): Promise<void> {
  const coach = pick(stage.world.coaches);
  await call(stage, `${LESSONS} takeLessonAction`, coach, { lessonId });
  stage.book.note('take', lessonId);
  const revision = await stage.book.insist('sheet', async () => {
    const response = await fetch(`${stage.origin}/api/lessons/${lessonId}/sheet`, {
      method: 'PUT',
      headers: { 'content-type': 'application/json', origin: stage.origin, cookie: coach.cookie },
      body: JSON.stringify({ baseRevision: 0, sheet: readySheet() }),
    });
    // The bench joins what stands there instead; here that can only be what an unheard try of ours has saved.
    if (response.status === 409) {
      const { revision } = (await response.json()) as { revision?: number };
      return revision === 1 ? { ok: 1 } : { refused: `revision ${revision}` };
    }
    const outcome = await outcomeOfRoute(response);
    return 'ok' in outcome ? { ok: Number(outcome.ok.revision) } : outcome;
  });
  await call(stage, `${LESSONS} returnLessonAction`, coach, { lessonId, revision });
  stage.book.note('return', lessonId);
  const id = uuid();
  await call(stage, `${LESSONS} replyAction`, player, {
    ...{ id, lessonId, body: 'That felt easier off the tee.', at: null },
  });
  stage.book.note('reply', id, { lessonId });
}

/** A lead takes a part in cash; the rest comes by card, and the service tells it twice. */
async function pay(stage: Stage, player: Asker, lessonId: string): Promise<void> {
  const id = uuid();
  await call(stage, `${LESSONS} recordEntryAction`, pick(stage.world.leads), {
    ...{ id, lessonId, kind: 'payment', amountMinor: IN_CASH_MINOR, method: 'cash', reason: '' },
  });
  stage.book.note('payment', id, { lessonId, amountMinor: IN_CASH_MINOR });

  const cardId = uuid();
  const rest = PRICE_MINOR - IN_CASH_MINOR;
  await stage.sql(
    `INSERT INTO "CardPayment" (id, "programId", "payerId", "lessonId", "amountMinor", currency, "createdById", "createdAt")
     VALUES ($1, $2, $3, $4, $5, 'USD', $3, now()) ON CONFLICT DO NOTHING`,
    [cardId, stage.world.programId, player.id, lessonId, rest],
  );
  const payload = sessionEvent(`evt_${cardId}`, 'checkout.session.completed', {
    ...{ id: `cs_${cardId}`, client_reference_id: cardId, amount_total: rest, currency: 'usd' },
  });
  for (const again of [false, true]) {
    await stage.book.insist('card', async () =>
      outcomeOfRoute(
        await fetch(`${stage.origin}/api/cards`, {
          method: 'POST',
          headers: { 'stripe-signature': sign(payload, stage.webhookSecret) },
          body: payload,
        }),
      ),
    );
    if (!again) stage.book.note('card', cardId, { lessonId, amountMinor: rest });
  }
}

/** A lead sells a pack to the player and takes the money for it; answers its id. */
async function sellPack(stage: Stage, player: Asker): Promise<string> {
  const lead = pick(stage.world.leads);
  const packId = uuid();
  const sale = { id: packId, payerId: player.id, priceId: stage.world.packPriceId };
  await call(stage, `${BILLING} sellPackAction`, lead, sale);
  stage.book.note('pack', packId);
  const id = uuid();
  await call(stage, `${BILLING} recordPackEntryAction`, lead, {
    ...{ id, packId, kind: 'payment', amountMinor: PACK_MINOR, method: 'transfer', reason: '' },
  });
  stage.book.note('pack-payment', id, { packId, amountMinor: PACK_MINOR });
  return packId;
}

/** What a player does over and over: lessons that are paid singly, then a pack and two lessons from it. */
export async function liveOn(stage: Stage, player: Asker, isOver: () => boolean): Promise<void> {
  for (let round = 0; !isOver(); round += 1) {
    try {
      const packId = round % 3 === 2 ? await sellPack(stage, player) : null;
      for (let lesson = 0; lesson < (packId ? 2 : 1); lesson += 1) {
        const lessonId = await submit(stage, player, packId);
        await returnIt(stage, player, lessonId);
        if (!packId) await pay(stage, player, lessonId);
      }
    } catch (error) {
      // Written down already; the next story begins.
      if (!(error instanceof Error && error.name === 'Refused')) throw error;
    }
  }
}

/** Runs SQL through a connection that is made anew whenever the database was away. */
export const sqlThrough = (connect: () => Promise<Client>) => {
  let client: Promise<Client> | null = null;
  return async (text: string, values: unknown[] = []) => {
    for (;;) {
      try {
        client ??= connect();
        return await (await client).query(text, values);
      } catch (error) {
        client = null;
        const isOurs = error instanceof Error && 'code' in error && /^(42|22|23)/.test(String(error.code));
        if (isOurs) throw error;
        await later(100);
      }
    }
  };
};
