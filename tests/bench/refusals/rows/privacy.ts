import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import { personalPart } from '@/lib/domain/privacy/files';
import { DEFAULT_DEADLINES } from '@/lib/domain/privacy/retention';
import { buildCopy, buildErasure, buildHold } from '../../../support/build-privacy';
import { form, LEADS, route, type OperationRow } from '../row';
import type { Target } from '../world';

// Copies of everything, erasure, legal holds and deadlines.

const file = 'action app/everything/[personId]/actions.ts';
/** Who speaks for a player: a grown one, a guardian of a minor, and leads. */
const SPEAKS = { self: 'ok', guardian: 'ok', ...LEADS } as const;

/** Without a hold or a request that stands: those of earlier cells are ended. */
const clear = async ({ player }: Target) => {
  const at = new Date();
  await prisma.legalHold.updateMany({ where: { playerId: player.id, endedAt: null }, data: { endedAt: at } });
  await prisma.erasureRequest.updateMany({
    where: { personId: player.id, cancelledAt: null },
    data: { cancelledAt: at },
  });
};

export const PRIVACY_ROWS: Record<string, OperationRow> = {
  [`${file} askCopy`]: form('target', SPEAKS, (t) => ({ id: uuid(), personId: t.player.id })),
  [`${file} askErase`]: form('target', SPEAKS, async (t) => {
    await clear(t);
    return { id: uuid(), personId: t.player.id, isSure: 'yes' };
  }),
  [`${file} takeBackErase`]: form('target', SPEAKS, async (t) => {
    await clear(t);
    return { id: (await buildErasure(t.program, t.player, t.lead)).id };
  }),
  [`${file} hold`]: form('target', LEADS, async (t) => {
    await clear(t);
    return { id: uuid(), personId: t.player.id, reason: 'A letter of a lawyer came.' };
  }),
  [`${file} endOfHold`]: form('target', LEADS, async (t) => {
    await clear(t);
    return { id: (await buildHold(t.program, t.player, t.lead)).id };
  }),
  'action app/program/retention/actions.ts keepDeadlines': form('self', LEADS, () =>
    Object.fromEntries(Object.entries(DEFAULT_DEADLINES).map(([name, days]) => [name, String(days)])),
  ),
  // Whoever asked for it, while they still may speak: here a grown player or the guardian of a minor.
  'GET app/api/copies/[copyId]/route.ts': route(
    'target',
    { self: 'ok', guardian: 'ok' },
    async (t, _as, stand) => {
      const { id } = await buildCopy(t.program, t.player, t.guardian ?? t.player);
      await stand.putFile(personalPart(id, 1));
      return `/api/copies/${id}?part=1`;
    },
  ),
};
