import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { buildWorld, CASES, isGranted, tryOut, WHO, type SelfRow, type TargetRow } from '../support/matrix';
import { ROWS } from './matrix-rows';

const folder = path.resolve(import.meta.dirname, '../../lib/data');
const files = readdirSync(folder)
  .filter((name) => /\.(read|write|system)\.ts$/.test(name))
  .map((name) => name.replace(/\.ts$/, ''));

const sources = new Map(files.map((name) => [name, readFileSync(path.join(folder, `${name}.ts`), 'utf8')]));
const exportsOf = (name: string) =>
  [
    ...sources
      .get(name)!
      .matchAll(/^export (?:async )?(?:function|const) (\w+)\b(?=\s*(?:<[^(]*>)?\(|.*=>)/gm),
  ].map((found) => found[1]!);

describe('every export of lib/data', () => {
  test.each(files)('%s has a row for each, and no row without an export', async (name) => {
    const loaded: Record<string, unknown> = await import(`../../lib/data/${name}.ts`);
    const functions = Object.keys(loaded).filter((key) => typeof loaded[key] === 'function');
    expect(Object.keys(ROWS[name] ?? {}).sort()).toEqual(functions.sort());
  });

  test('and no row tells of a file that is gone', () => {
    expect(Object.keys(ROWS).filter((name) => !files.includes(name))).toEqual([]);
  });

  test.each(files.flatMap((name) => exportsOf(name).map((key) => [name, key] as const)))(
    '%s %s takes the viewer, or the program itself, first',
    (name, key) => {
      const source = sources.get(name)!;
      const first = new RegExp(
        `export (?:async )?function ${key}\\s*(?:<[^(]*>)?\\(\\s*(\\w+): ([\\w| ]+)`,
      ).exec(source);
      const isSystem = ROWS[name]?.[key]?.kind === 'system';
      expect(first?.[2]?.trim()).toMatch(isSystem ? /^System$/ : /^Viewer( \| System)?$/);
    },
  );
});

let world: Awaited<ReturnType<typeof buildWorld>>;
beforeAll(async () => {
  world = await buildWorld();
});

const all = Object.entries(ROWS).flatMap(([name, rows]) =>
  Object.entries(rows).map(([key, row]) => ({ title: `${name} ${key}`, row })),
);
const targetRows = all.filter((one): one is { title: string; row: TargetRow } => one.row.kind === 'target');
const selfRows = all.filter((one): one is { title: string; row: SelfRow } => one.row.kind === 'self');

describe('role by case', () => {
  test.each(targetRows)('$title', async ({ row }) => {
    const granted: string[] = [];
    for (const who of WHO) {
      for (const which of CASES) {
        const viewer = await world.viewerFor(who, which);
        if (await isGranted(row, viewer, world.targets[which])) granted.push(`${who}: ${which}`);
      }
    }
    const wanted = WHO.flatMap((who) =>
      CASES.filter((which) => row.may[who]?.includes(which)).map((which) => `${who}: ${which}`),
    );
    expect(granted).toEqual(wanted);
  });
});

describe('what is about the viewer alone tells nothing of another program', () => {
  test.each(selfRows)('$title', async ({ row }) => {
    const { elsewhere } = world.targets;
    const foreign = [
      world.far.id,
      world.far.name,
      elsewhere.player.id,
      elsewhere.player.name,
      elsewhere.submitted.id,
    ];
    for (const who of WHO) {
      const viewer = await world.viewerFor(who, 'own');
      const answer = JSON.stringify((await tryOut((tx) => row.call(viewer, tx))) ?? null);
      for (const word of [...foreign, world.farStaff.coach.email!]) expect(answer).not.toContain(word);
    }
  });
});

describe('people without a place', () => {
  test('a viewer without a role is granted nothing', async () => {
    const stranger = { ...(await world.viewerFor('player', 'own')), roles: [], wards: [] } as never;
    for (const { title, row } of targetRows) {
      const granted = await isGranted(row, stranger, world.targets.own);
      expect({ title, granted }).toEqual({ title, granted: false });
    }
  });
});
