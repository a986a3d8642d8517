import { describe, expect, it } from 'vitest';
import type { HeldDraft } from '@/app/lessons/new/_send/here-store';
import { openDraft, type KeptDraft, type Sources } from '@/app/lessons/new/_send/open-draft';
import { emptyDraft } from '@/lib/domain/lessons/intake';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';

const LESSON = 'a5eb908c-7202-4a64-beab-b19547d50a8a' as LessonId;
const OTHER = 'b5eb908c-7202-4a64-beab-b19547d50a8b' as LessonId;
const FOLLOWED = 'c5eb908c-7202-4a64-beab-b19547d50a8c' as LessonId;
const PLAYER = 'd5eb908c-7202-4a64-beab-b19547d50a8d' as PersonId;

const asked = (question: string) => ({ ...emptyDraft(), question });
const kept = (question: string): KeptDraft => ({ lessonId: LESSON, followsId: null, draft: asked(question) });
const found = (question: string, isKept: boolean): HeldDraft => ({
  version: 1,
  lessonId: LESSON,
  playerId: PLAYER,
  followsId: null,
  draft: asked(question),
  isKept,
  here: {},
  changedAt: 1,
});
const open = (sources: Partial<Sources>) =>
  openDraft(
    {
      setting: { player: { id: PLAYER, name: 'Wren', bats: 'left' } },
      kept: null,
      found: null,
      follows: { id: null, isAsked: false },
      isFresh: false,
      ...sources,
    },
    () => OTHER,
  );

describe('where the form begins', () => {
  it('begins a new lesson, with the side the player is known to bat from', () => {
    const opened = open({ follows: { id: FOLLOWED, isAsked: false } });
    expect(opened).toMatchObject({
      lessonId: OTHER,
      told: undefined,
      isKept: true,
      value: { followsId: FOLLOWED, draft: { bats: 'left' } },
    });
  });

  it('goes on with what the program has', () => {
    expect(open({ kept: kept('old') })).toMatchObject({ lessonId: LESSON, isKept: true });
    expect(open({ kept: kept('same'), found: found('same', true) })).toMatchObject({ isKept: true });
  });

  it('puts what never reached the program first, whether the program knows the lesson or not', () => {
    const mine = { lessonId: LESSON, isKept: false, value: { draft: { question: 'mine' } } };
    expect(open({ kept: kept('old'), found: found('mine', false) })).toMatchObject({ ...mine, told: null });
    expect(open({ found: found('mine', false) })).toMatchObject({ ...mine, told: undefined });
  });

  it('asks for the page again when it was made before the last save, and then believes the program', () => {
    const late = { kept: kept('before the save'), found: found('after the save', true) };
    expect(open(late)).toBe('stale');
    expect(open({ ...late, kept: kept('changed elsewhere'), isFresh: true })).toMatchObject({
      value: { draft: { question: 'changed elsewhere' } },
    });
  });

  it('asks for the page again when it comes out of the history, from before the draft', () => {
    expect(open({ found: found('mine', true) })).toBe('stale');
  });

  it('begins anew when the lesson was sent elsewhere', () => {
    expect(open({ found: found('sent elsewhere', true), isFresh: true })).toMatchObject({
      lessonId: OTHER,
      value: { draft: { question: '' } },
    });
  });

  it('follows what the way here named, also when the draft followed something else', () => {
    const opened = open({ kept: kept('old'), follows: { id: FOLLOWED, isAsked: true } });
    expect(opened).toMatchObject({ isKept: false, told: null, value: { followsId: FOLLOWED } });
  });
});
