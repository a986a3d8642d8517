import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import type { Day } from '@/lib/domain/people/age';
import { judgeRows, readDay, type TableStanding } from '@/lib/domain/people/invitation-rows';
import { COLUMN_WORD, COLUMNS, MOST_ROWS, readTable } from '@/lib/domain/people/invitation-table';
import { toCsv } from '@/lib/domain/progress/csv';
import type { PersonId } from '@/lib/domain/shared/ids';

const TODAY = '2026-06-01' as Day;
const HEAD = 'name,email,role,birth date,child name,child birth date,guardian name,guardian email';
const nobody: TableStanding = { members: [], open: [], players: [] };
const rowsOf = (text: string) => {
  const table = readTable(text);
  if (!table.ok) throw new Error(table.sentence);
  return table.rows;
};
const judged = (lines: readonly string[], standing = nobody) =>
  judgeRows(rowsOf([HEAD, ...lines].join('\n')), standing, TODAY);

describe('reading a table', () => {
  const plain = 'name,email,role\nRobin Sample,robin@example.org,coach\n';
  test.each([
    ['as it is', plain],
    ['with a byte order mark', `\uFEFF${plain}`],
    ['with Windows line ends', plain.replaceAll('\n', '\r\n')],
    ['with old line ends', plain.replaceAll('\n', '\r')],
    ['with semicolons', plain.replaceAll(',', ';')],
    ['with tabs', plain.replaceAll(',', '\t')],
    ['all quoted', '"name","email","role"\n"Robin Sample","robin@example.org","coach"'],
    ['columns in another order and case', 'Role,E-Mail,NAME\ncoach,robin@example.org,Robin Sample'],
    ['with blanks and empty rows', 'name, email ,role\n\n Robin Sample , robin@example.org,coach\n,,\n'],
  ])('%s', (_how, text) => {
    expect(rowsOf(text)).toMatchObject([{ name: 'Robin Sample', email: 'robin@example.org', role: 'coach' }]);
  });

  test('a comma inside a name does not mislead where semicolons separate', () => {
    const text =
      'name;email;role\n"Sample, Robin";robin@example.org;coach\nVoss, Ana;ana@example.org;coach\n';
    expect(rowsOf(text).map((row) => row.name)).toEqual(['Sample, Robin', 'Voss, Ana']);
  });

  test('rows are numbered as a table program numbers them, empty ones counted', () => {
    expect(
      rowsOf('name,email,role\n\na,a@example.org,coach\n\nb,b@example.org,coach').map((r) => r.row),
    ).toEqual([3, 5]);
  });

  test('names the columns that it does not read', () => {
    expect(readTable('name,email,role,shoe size\na,a@example.org,coach,7')).toMatchObject({
      ignored: ['shoe size'],
    });
  });

  test.each([
    ['nothing', '', /these are missing: name, email, role/],
    ['no heading', 'Robin,robin@example.org,coach', /first row has to name the columns/],
    ['a column twice', 'name,email,role,E-mail\na,b,c,d', /“email” is there twice/],
    ['a heading alone', 'name,email,role\n', /nobody under the heading/],
    [
      'an open quotation mark',
      'name,email,role\n"Robin,robin@example.org,coach',
      /quotation mark in row 2 is not closed/,
    ],
    [
      'too many rows',
      `name,email,role\n${'a,a@example.org,coach\n'.repeat(MOST_ROWS + 1)}`,
      /501 rows; at most 500/,
    ],
    ['something that is no text', 'PK\u0003\u0004\u0000\u0000', /no text/],
    ['far too much', 'x'.repeat(500_000), /too long/],
  ])('%s is refused in one sentence', (_what, text, words) => {
    const table = readTable(text);
    expect(table.ok ? '' : table.sentence).toMatch(words);
    expect(table.ok ? '' : table.sentence).toMatch(/Nothing was sent/);
  });

  test('whatever is written as CSV by the reference writer reads back the same', () => {
    const cell = fc.string({ unit: 'binary', maxLength: 12 }).filter((text) => !text.includes('\u0000'));
    const row = fc.tuple(cell, cell, cell).filter((cells) => cells.some((one) => one.trim() !== ''));
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 6 }), (rows) => {
        const text = Papa.unparse([['name', 'email', 'role'], ...rows]);
        expect(rowsOf(text).map(({ name, email, role }) => [name, email, role])).toEqual(
          rows.map((cells) => cells.map((one) => one.trim())),
        );
      }),
    );
  });
});

describe('a birth date', () => {
  test.each([
    ['2012-04-30', '2012-04-30'],
    ['30.4.2012', '2012-04-30'],
    ['4.5.2012', '2012-05-04'],
    ['4/30/2012', '2012-04-30'],
    ['30/4/2012', '2012-04-30'],
    ['5/5/2012', '2012-05-05'],
    ['4/5/2012', 'unclear'],
    ['2012-02-30', null],
    ['31.2.2012', null],
    ['yesterday', null],
    ['4/5-2012', null],
    ['1/2/12', null],
  ])('%s is %s', (text, day) => expect(readDay(text)).toBe(day));
});

describe('judging rows', () => {
  test.each([
    ['a coach', 'A,a@example.org,coach', /as a coach/],
    ['a grown player', 'A,a@example.org,Player,2000-01-01', /as a player\.$/],
    [
      'a minor with a guardian',
      'A,a@example.org,player,2010-01-01,,,G,g@example.org',
      /g@example\.org is invited as guardian once/,
    ],
    ['a guardian of a child to come', 'G,g@example.org,parent,,Wren,2016-01-01', /adds Wren/],
    ['a guardian alone', 'G,g@example.org,guardian', /adds their child/],
  ])('%s will be invited', (_who, line, words) => {
    const [one] = judged([line]);
    expect(one).toMatchObject({ outcome: 'invite', words: expect.stringMatching(words) });
  });

  test.each([
    ['no role', 'A,a@example.org,', /role has to be player, guardian or coach\./],
    ['another role', 'A,a@example.org,mascot', /not “mascot”/],
    ['a lead', 'A,a@example.org,lead', /made from a coach/],
    ['no name', ',a@example.org,coach', /Write the coach’s name/],
    ['a name without end', `${'a'.repeat(81)},a@example.org,coach`, /under 80 letters/],
    ['no address', 'A,,coach', /Write the coach’s e-mail address/],
    ['half an address', 'A,a@,coach', /“a@” does not look like/],
    ['a player without a birth date', 'A,a@example.org,player', /whether a guardian is needed/],
    ['a day that is none', 'A,a@example.org,player,soon', /“soon” is not a day/],
    ['a day with two readings', 'A,a@example.org,player,4/5/2000', /two different days/],
    ['a birth ahead', 'A,a@example.org,player,2030-01-01', /cannot be right/],
    ['a player of 12', 'A,a@example.org,player,2013-06-02', /under 13 and cannot have a login/],
    [
      'a player of 17 without a guardian',
      'A,a@example.org,player,2008-06-02',
      /is under 18: write the name and the e-mail address of a guardian/,
    ],
    [
      'a guardian’s address that is the minor’s own',
      'A,a@example.org,player,2010-01-01,,,G,A@example.org',
      /is the player’s own/,
    ],
    [
      'a guardian without a name',
      'A,a@example.org,player,2010-01-01,,,,g@example.org',
      /Write the guardian’s name/,
    ],
    ['a child of a coach', 'A,a@example.org,coach,,Wren', /Only a guardian has a child/],
    ['a grown child', 'G,g@example.org,guardian,,Wren,2000-01-01', /18 or older/],
    ['a birth date without a child', 'G,g@example.org,guardian,,,2016-01-01', /without a child’s name/],
  ])('%s cannot be, and says why', (_what, line, words) => {
    expect(judged([line])[0]).toMatchObject({
      outcome: 'cannot',
      words: expect.stringMatching(words),
      invitation: null,
    });
  });

  test('18 and 13 count from the birthday on', () => {
    const lines = [
      'A,a@example.org,player,2008-06-01',
      'B,b@example.org,player,2013-06-01,,,G,g@example.org',
    ];
    expect(judged(lines).map((one) => one.outcome)).toEqual(['invite', 'invite']);
  });

  test('of two rows that say the same the first counts; two children of one guardian are two', () => {
    const lines = [
      'A,a@example.org,coach',
      'A again,A@EXAMPLE.org,coach',
      'G,g@example.org,guardian,,Wren,2016-01-01',
      'G,g@example.org,guardian,,Sky,2016-01-01',
    ];
    expect(judged(lines).map(({ outcome, words }) => [outcome, words.slice(0, 17)])).toEqual([
      ['invite', 'Will be invited a'],
      ['cannot', 'The same as row 2'],
      ['invite', 'Will be invited a'],
      ['invite', 'Will be invited a'],
    ]);
  });

  const wren = { personId: 'w' as PersonId, name: 'Wren', birthDate: '2016-01-01' as Day };
  test('who is here, or was invited and has not answered, is not invited again', () => {
    const standing: TableStanding = {
      members: [
        { email: 'a@example.org', roles: ['lead'], wards: [] },
        { email: 'g@example.org', roles: ['guardian'], wards: [wren.personId] },
      ],
      open: [
        { email: 'b@example.org', role: 'coach', playerId: null, childName: null },
        { email: 'h@example.org', role: 'guardian', playerId: null, childName: 'SKY' },
      ],
      players: [wren],
    };
    const lines = [
      'A,a@example.org,coach',
      'G,g@example.org,guardian,,wren,2016-01-01',
      'B,b@example.org,coach',
      'H,h@example.org,guardian,,Sky,2016-01-01',
      'A,a@example.org,player,2000-01-01',
      'H,h@example.org,guardian,,Wren,2016-01-01',
    ];
    expect(judged(lines, standing).map((one) => one.outcome)).toEqual([
      'here',
      'here',
      'open',
      'open',
      'invite',
      'invite',
    ]);
    expect(judged(lines, standing)[5]?.invitation).toMatchObject({ playerId: 'w', childName: null });
  });

  test('a guardian is put beside a player only when name and birth date are those of one', () => {
    const line = (birth: string) => `G,g@example.org,guardian,,Wren,${birth}`;
    const outcome = (birth: string, players: TableStanding['players']) =>
      judged([line(birth)], { ...nobody, players })[0];
    expect(outcome('', [wren])).toMatchObject({
      outcome: 'cannot',
      words: expect.stringMatching(/not sure/),
    });
    expect(outcome('2016-01-01', [{ ...wren, birthDate: null }])).toMatchObject({ outcome: 'cannot' });
    expect(outcome('2016-01-01', [wren, { ...wren, personId: 'x' as PersonId }])).toMatchObject({
      outcome: 'cannot',
    });
    expect(outcome('2017-01-01', [wren])?.invitation).toMatchObject({ playerId: null, childName: 'Wren' });
  });
});

test('the report opens harmlessly in a table program, and reads back as a table', () => {
  const name = '=HYPERLINK("http://example.org";"click")';
  const csv = toCsv([COLUMNS.map((column) => COLUMN_WORD[column]), [name, '+1', '@x', '-2', '', '', '', '']]);
  const cells = Papa.parse<string[]>(csv).data[1]!;
  expect(cells.slice(0, 4)).toEqual([`'${name}`, "'+1", "'@x", "'-2"]);
});
