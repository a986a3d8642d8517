import { beforeAll, describe, expect, test } from 'vitest';
import { findLessons, findPlayers } from '@/lib/data/search.read';
import type { Viewer } from '@/lib/domain/people/viewer';
import { buildCoach, buildLesson, buildPlayer, buildProgram } from '../support/build';
import { viewerOf } from '../support/viewers';

let coach: Viewer;
let player: Viewer;
let far: Viewer;

beforeAll(async () => {
  const program = await buildProgram();
  const elsewhere = await buildProgram();
  const person = await buildPlayer(program, { name: 'Žofie O’Brien-Núñez', age: 20 });
  const other = await buildPlayer(program, { name: 'Ada Quill', age: 20 });
  coach = await viewerOf(await buildCoach(program), program);
  player = await viewerOf(person, program);
  far = await viewerOf(await buildCoach(elsewhere), elsewhere);
  const at = (day: number) => new Date(Date.UTC(2026, 0, day, 12));
  for (let day = 1; day <= 45; day += 1) {
    await buildLesson(program, day % 2 ? person : other, {
      state: 'returned',
      question: `Am I late on the outside pitch, day ${day}?${day === 3 ? ' My hands feel quick.' : ''}`,
      submittedAt: at(day),
    });
  }
  await buildLesson(program, person, { state: 'draft', question: 'Quick hands, not sent yet' });
});

describe('players', () => {
  test.each(['zofie', 'Žofie', 'núñez', 'brien núñ', 'O’Brien'])('by “%s”', async (typed) => {
    const names = (await findPlayers(coach, typed)).rows.map(({ name }) => name);
    expect(names).toEqual(typed === 'zofie' ? [] : ['Žofie O’Brien-Núñez']); // letters are taken as they are written
  });
  test('are not found from another program, nor by a player', async () => {
    for (const who of [far, player]) expect((await findPlayers(who, 'Quill')).rows).toEqual([]);
  });
});

describe('lessons', () => {
  test('by the beginnings of their words, in any order; what is not sent is not found', async () => {
    const { rows } = await findLessons(coach, 'quick han');
    expect(rows.map(({ question }) => question)).toEqual([
      'Am I late on the outside pitch, day 3? My hands feel quick.',
    ]);
  });
  test('all pages together are every lesson once, newest first', async () => {
    const found: string[] = [];
    let page = await findLessons(coach, 'outside');
    const sizes = [page.rows.length];
    found.push(...page.rows.map(({ question }) => question));
    while (page.hasMore) {
      page = await findLessons(coach, 'outside', page.rows.at(-1)!.id);
      sizes.push(page.rows.length);
      found.push(...page.rows.map(({ question }) => question));
    }
    expect(sizes).toEqual([20, 20, 5]);
    expect(found.map((question) => Number(/day (\d+)/.exec(question)?.[1]))).toEqual(
      Array.from({ length: 45 }, (_, index) => 45 - index),
    );
  });
  test.each(['', '   ', '& | !', ":*'", '--'])('nothing for “%s”, and no error', async (typed) => {
    expect(await findLessons(coach, typed)).toEqual({ rows: [], hasMore: false });
    expect(await findPlayers(coach, typed)).toEqual({ rows: [], hasMore: false });
  });
  test.each(["late' | 'x", 'late:* & (outside', '\\late'])('“%s” is words, not a query', async (typed) => {
    await expect(findLessons(coach, typed)).resolves.toBeDefined();
  });
  test('of another program are not found', async () => {
    expect((await findLessons(far, 'outside')).rows).toEqual([]);
  });
});
