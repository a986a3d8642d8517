import { describe, expect, it } from 'vitest';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';
import { DEFAULT_DRILLS } from '@/lib/domain/drills/default-library';
import { doseSchema, doseWords, DRILL_STAGES, plainDose, spotWords } from '@/lib/domain/drills/dose';
import { drillSchema, drillsFor } from '@/lib/domain/drills/drill';
import { checkInSchema, followUpOf, PAIN_WORDS, weekOf } from '@/lib/domain/drills/practice';
import type { Day } from '@/lib/domain/people/age';

const day = (text: string) => text as Day;

describe('the library a program starts with', () => {
  it.each(DEFAULT_DRILLS.map((drill) => [drill.title, drill] as const))(
    '%s is sound: safety lines, its standing, items of the checklist, easiest stage first',
    (_title, drill) => {
      expect(drillSchema.parse(drill)).toEqual(drill);
      expect(drill.standing).toBe('Common practice, no source');
      expect(drill.safety.join(' ')).toMatch(/clear space/);
      const known = DEFAULT_CHECKLIST.map((item) => item.id);
      expect(drill.itemIds.filter((id) => !known.includes(id))).toEqual([]);
      // Fixed ball, soft toss, growing pitch velocity: Monti 2015, IJSPT 10(7), 1059-1073 (abstract).
      expect(drill.stages).toEqual(DRILL_STAGES.filter((stage) => drill.stages.includes(stage)));
      if (drill.stages.some((stage) => stage !== 'tee')) expect(drill.safety.join(' ')).toMatch(/Helmet/);
    },
  );

  it('has a drill for every item of the default checklist', () => {
    const helped = new Set(DEFAULT_DRILLS.flatMap((drill) => drill.itemIds));
    expect(DEFAULT_CHECKLIST.filter((item) => !helped.has(item.id))).toEqual([]);
  });

  it('offers those that help the item first', () => {
    const titles = drillsFor(DEFAULT_DRILLS, 'full-finish').map((drill) => drill.title);
    expect(titles[0]).toBe('Finish and hold');
    expect(titles.slice(1)).toEqual([...titles.slice(1)].sort());
    expect(drillsFor(DEFAULT_DRILLS, null)).toHaveLength(DEFAULT_DRILLS.length);
  });
});

describe('a dose', () => {
  it('is read aloud whole', () => {
    expect(doseWords(plainDose('tee', null))).toBe(
      '2 sets of 8 off a tee, 60 s rest, 3 days a week, without feedback',
    );
    expect(doseWords({ ...plainDose('toss', null), sets: 1, daysAWeek: 1, hasFeedback: true })).toBe(
      '1 set of 8 soft toss, 1 day a week, with feedback',
    );
  });

  it.each([
    [{ sets: 0 }, 'Choose one set at least.'],
    [{ sets: 11 }, 'Ten sets at most.'],
    [{ reps: 31 }, 'Thirty swings a set at most.'],
    [{ daysAWeek: 8 }, 'A week has seven days.'],
    [{ restSeconds: 601 }, 'Ten minutes of rest at most.'],
    [{ tee: { x: 3, y: 0 } }, 'That is too far before the plate.'],
  ])('refuses %j', (change, sentence) => {
    const parsed = doseSchema.safeParse({ ...plainDose('tee', null), ...change });
    expect(parsed.error?.issues[0]?.message).toBe(sentence);
  });

  it('keeps a tee only where there is one', () => {
    expect(plainDose('tee', { x: 0.4, y: 0 }).tee).toEqual({ x: 0.4, y: 0 });
    expect(plainDose('toss', { x: 0.4, y: 0 }).tee).toBeNull();
  });

  it('names a spot from the point of the plate', () => {
    expect(spotWords({ x: 0.45, y: -0.14 })).toBe(
      '45 cm toward the pitcher, 14 cm toward first base from the point of the plate',
    );
    expect(spotWords({ x: -0.1, y: 0.2 })).toContain('10 cm toward the catcher, 20 cm toward third base');
    expect(spotWords({ x: 0, y: 0 })).toBe('at the point of the plate');
  });
});

describe('a check-in', () => {
  const said = {
    day: '2026-06-01',
    setsDone: 2,
    repsDone: 16,
    feel: null,
    note: '',
    painLevel: 0,
    painWhere: null,
  };
  it('needs an answer about pain, and a place for it', () => {
    expect(checkInSchema.safeParse(said).success).toBe(true);
    const open = checkInSchema.safeParse({ ...said, painLevel: undefined });
    expect(open.error?.issues[0]?.message).toBe('Say whether anything hurt.');
    const nowhere = checkInSchema.safeParse({ ...said, painLevel: 1 });
    expect(nowhere.error?.issues[0]?.message).toBe('Say where it hurt.');
    expect(checkInSchema.safeParse({ ...said, painLevel: 1, painWhere: 'elbow' }).success).toBe(true);
  });

  it('counts days, not sittings, over the last seven', () => {
    const on = (text: string, repsDone = 16) => ({ day: day(text), repsDone });
    const week = weekOf(
      {
        dose: { daysAWeek: 3 },
        checkIns: [
          on('2026-06-07'),
          on('2026-06-07'),
          on('2026-06-01'),
          on('2026-05-31'),
          on('2026-06-05', 0),
        ],
      },
      day('2026-06-07'),
    );
    expect(week).toEqual({ done: 2, asked: 3 });
  });

  it('never speaks of a way back after pain but a clinician', () => {
    expect(PAIN_WORDS).toMatch(/See a clinician/);
    expect(PAIN_WORDS).not.toMatch(/step|programme|swings a day|rest for/i);
  });
});

describe('a follow-up swing', () => {
  const asked = { swingBy: day('2026-06-07'), endedAt: null, hasSwing: false, isPaused: false };
  it.each([
    ['wanted before its day', asked, '2026-06-06', 'wanted'],
    ['wanted on its day', asked, '2026-06-07', 'wanted'],
    ['overdue after it', asked, '2026-06-08', 'overdue'],
    ['come', { ...asked, hasSwing: true }, '2026-06-08', 'came'],
    ['not wanted while paused', { ...asked, isPaused: true }, '2026-06-08', 'none'],
    ['not wanted when ended', { ...asked, endedAt: new Date(0) }, '2026-06-08', 'none'],
    ['not asked for', { ...asked, swingBy: null }, '2026-06-08', 'none'],
  ] as const)('is %s', (_name, facts, today, wanted) => {
    expect(followUpOf(facts, day(today))).toBe(wanted);
  });
});
