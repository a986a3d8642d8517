import { describe, expect, it } from 'vitest';
import { CHECKPOINTS, VERDICTS } from '@/lib/domain/checkpoints/checkpoint';
import { CHALKS } from '@/lib/domain/marks/mark';
import { commandOf, COMMANDS, keyMap, spokenKeys } from '@/lib/review/commands';
import { TOOL_IDS } from '@/lib/review/input/tools/tool';

const repeated = (list: readonly string[]) => list.filter((x, i) => list.indexOf(x) !== i);

describe('the commands of the bench', () => {
  it('have one id, one label and one key each, within their scope', () => {
    expect(repeated(COMMANDS.map((c) => c.id))).toEqual([]);
    expect(repeated(COMMANDS.map((c) => c.label))).toEqual([]);
    for (const scope of ['bench', 'placing']) {
      const keys = COMMANDS.filter((c) => c.scope === scope).flatMap((c) =>
        c.keys.map((k) => k.toLowerCase()),
      );
      expect(repeated(keys)).toEqual([]);
    }
  });

  it('cover every tool, chalk, verdict and checkpoint', () => {
    const ids: string[] = COMMANDS.map((c) => c.id);
    const wanted = [
      ...TOOL_IDS.map((t) => `tool-${t}`),
      ...CHALKS.map((c) => `chalk-${c}`),
      ...VERDICTS.map((v) => `verdict-${v.replace('_', '-')}`),
      ...CHECKPOINTS.flatMap((c) => [`go-${c.replace('_', '-')}`, `pin-${c.replace('_', '-')}`]),
    ];
    expect(wanted.filter((id) => !ids.includes(id))).toEqual([]);
  });

  it('can do without single letters and digits (WCAG 2.2, 2.1.4)', () => {
    const all = Object.keys(keyMap('bench', () => undefined));
    const few = Object.keys(keyMap('bench', () => undefined, false));
    expect(all).toContain('z');
    expect(few).toContain('$mod+z');
    expect(few).toContain('ArrowLeft');
    expect(few.filter((keys) => /^(Shift\+)?(.|Digit.)$/.test(keys))).toEqual([]);
  });

  it('say their keys in words', () => {
    expect(['Shift+ArrowLeft', 'Digit7', '$mod+Shift+z', '+', 'Shift+?', '['].map(spokenKeys)).toEqual([
      'Shift Left',
      '7',
      'Command or Control Shift Z',
      '+',
      'Shift ?',
      '[',
    ]);
    expect(commandOf('undo').label).toBe('Take back');
  });
});
