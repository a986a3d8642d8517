import { v7 as uuid } from 'uuid';
import { describe, expect, test } from 'vitest';
import { listChecklistVersions, listRetiredItems, readChecklistVersion } from '@/lib/data/checklists.read';
import { prisma } from '@/lib/data/client';
import { readLesson } from '@/lib/data/lessons.read';
import { readChecklist } from '@/lib/data/program.read';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';
import type { ChecklistLine } from '@/lib/domain/checkpoints/versions';
import { itemRows } from '@/lib/domain/progress/item-rows';
import type { LessonId } from '@/lib/domain/shared/ids';
import { saveChecklist } from '@/lib/workflows/save-checklist';
import { startLesson } from '@/lib/workflows/start-lesson';
import { buildCoach, buildLead, buildPlayer, buildProgram } from '../../support/build';
import { fakePorts } from '../../support/fake-ports';
import { viewerOf } from '../../support/viewers';

const own: ChecklistLine = {
  id: null,
  checkpoint: 'finish',
  title: 'Bat path through the zone',
  lookFor: 'Long through the ball.',
  views: ['front'],
  standing: 'Common practice, no source',
};

async function academy() {
  const program = await buildProgram();
  const [lead, other, coach] = [
    await buildLead(program, { name: 'Lena Lead' }),
    await buildLead(program, { name: 'Otto Other' }),
    await buildCoach(program),
  ];
  const player = await buildPlayer(program);
  const ports = fakePorts();
  const viewers = {
    lead: await viewerOf(lead, program),
    other: await viewerOf(other, program),
    coach: await viewerOf(coach, program),
    player: await viewerOf(player, program),
  };
  const begin = async () => {
    const lessonId = uuid() as LessonId;
    await startLesson(viewers.player, { lessonId, playerId: player.id, followsId: null });
    return lessonId;
  };
  return { ports, ...viewers, begin };
}

describe('a new version of the checklist', () => {
  test('is taken by lessons begun after it; those begun before keep theirs; items are followed by their id', async () => {
    const { lead, player, ports, begin } = await academy();
    const before = await begin();
    const renamed = { ...DEFAULT_CHECKLIST[0]!, title: 'Eyes to the pitcher' };
    const lines = [renamed, ...DEFAULT_CHECKLIST.slice(2), own];
    expect(await saveChecklist(ports, lead, { id: uuid(), from: 1, lines })).toEqual({ number: 2 });
    await prisma.lesson.update({
      where: { id: before },
      data: { state: 'submitted', submittedAt: new Date() },
    });
    const after = await begin();
    const [kept, newest] = [await readLesson(player, before), await readLesson(player, after)];
    expect(kept?.checklist).toEqual(DEFAULT_CHECKLIST);
    expect(newest?.checklist).toEqual((await readChecklist(lead))?.items);
    const rows = itemRows([kept!, newest!].map(({ checklist }) => ({ checklist, sheet: null })));
    expect(rows.find((row) => row.itemId === renamed.id)).toMatchObject({
      title: 'Eyes to the pitcher',
      states: ['waiting', 'waiting'],
    });
    expect(rows.find((row) => row.itemId === DEFAULT_CHECKLIST[1]!.id)?.states).toEqual([
      'waiting',
      'retired',
    ]);
    expect(rows.find((row) => row.title === own.title)?.states).toEqual(['not-on-list', 'waiting']);
  });

  test('sent twice is one, and the audit has it once', async () => {
    const { lead, ports } = await academy();
    const input = { id: uuid(), from: 1, lines: [...DEFAULT_CHECKLIST, own] };
    const answers = [await saveChecklist(ports, lead, input), await saveChecklist(ports, lead, input)];
    expect(answers).toEqual([{ number: 2 }, { number: 2 }]);
    expect(
      await prisma.auditEntry.count({ where: { programId: lead.programId, action: 'checklist.saved' } }),
    ).toBe(1);
  });

  test('of two leads at once one is kept, and the other hears who, with nothing overwritten', async () => {
    const { lead, other, ports } = await academy();
    const writing = [
      saveChecklist(ports, lead, { id: uuid(), from: 1, lines: [...DEFAULT_CHECKLIST, own] }),
      saveChecklist(ports, other, { id: uuid(), from: 1, lines: DEFAULT_CHECKLIST.slice(1) }),
    ];
    const done = await Promise.allSettled(writing);
    const refused = done.find((one) => one.status === 'rejected');
    expect(done.filter((one) => one.status === 'fulfilled')).toHaveLength(1);
    expect(refused?.reason).toMatchObject({ fault: 'conflict' });
    expect(String(refused?.reason)).toMatch(/(Lena Lead|Otto Other) saved version 2 while you were writing/);
    expect((await readChecklist(lead))?.number).toBe(2);
  });

  test('brings a retired item back under its own id', async () => {
    const { lead, ports } = await academy();
    const [gone, ...rest] = DEFAULT_CHECKLIST;
    await saveChecklist(ports, lead, { id: uuid(), from: 1, lines: rest });
    expect(await listRetiredItems(lead)).toEqual([gone]);
    await saveChecklist(ports, lead, { id: uuid(), from: 2, lines: [...rest, gone!] });
    expect(await listRetiredItems(lead)).toEqual([]);
    expect((await readChecklist(lead))?.items.map((item) => item.id)).toContain(gone!.id);
  });

  test.each([
    ['nothing that differs', DEFAULT_CHECKLIST, /Nothing differs/],
    ['no item at all', [], /at least one item/],
    ['an id that is not of this program', [{ ...own, id: 'elsewhere' }], /does not belong/],
  ])('%s is refused and makes none', async (_what, lines, words) => {
    const { lead, ports } = await academy();
    const saving = saveChecklist(ports, lead, { id: uuid(), from: 1, lines: lines as ChecklistLine[] });
    await expect(saving).rejects.toMatchObject({ fault: 'invalid', message: expect.stringMatching(words) });
    expect((await readChecklist(lead))?.number).toBe(1);
  });

  test('is a lead’s to make and the staff’s to read', async () => {
    const { lead, coach, player, ports } = await academy();
    const input = { id: uuid(), from: 1, lines: [...DEFAULT_CHECKLIST, own] };
    for (const viewer of [coach, player]) {
      await expect(saveChecklist(ports, viewer, input)).rejects.toMatchObject({ fault: 'not-found' });
    }
    await saveChecklist(ports, lead, input);
    const history = await listChecklistVersions(coach, { before: null });
    expect(history.versions.map(({ number, by }) => [number, by])).toEqual([
      [2, 'Lena Lead'],
      [1, null],
    ]);
    expect((await listChecklistVersions(coach, { before: 2, take: 1 })).versions).toHaveLength(1);
    expect((await readChecklistVersion(coach, 1))?.items).toEqual(DEFAULT_CHECKLIST);
    expect(await readChecklistVersion(coach, 3)).toBeNull();
    expect((await listChecklistVersions(player, { before: null })).versions).toEqual([]);
  });
});
