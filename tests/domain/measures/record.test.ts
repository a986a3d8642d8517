import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { measuresOf } from '@/lib/domain/measures/measure';
import { answerFor, parseRecords, RecordFault, type MeasureRecord } from '@/lib/domain/measures/record';
import { GROUND_NAMES, JOINT_NAMES } from '@/lib/domain/measures/names';
import { buildInput } from './build-input';

/** A record of exactly the documented shape. */
const buildRecord = () => {
  const { frame, bats, field, clickSd, ground, points } = buildInput();
  return { version: 1, frame, bats, field, clickSd, ground: [...ground], points };
};
const parse = (raw: unknown) => parseRecords(JSON.stringify(raw), 'clip.json');
const faultOf = (text: string): string => {
  try {
    parseRecords(text, 'clip.json');
  } catch (error) {
    expect(error).toBeInstanceOf(RecordFault);
    const { message } = error as RecordFault;
    expect(message).not.toContain('\n');
    expect(message).toMatch(/^[^.].*\.$/);
    return message;
  }
  throw new Error('It was read.');
};
const faultIn = (change: object) => faultOf(JSON.stringify({ ...buildRecord(), ...change }));

describe('an open record', () => {
  it('comes back as it was written, one or several', () => {
    const record = buildRecord();
    expect(parse(record)).toEqual(record);
    expect(parse([record, record])).toEqual([record, record]);
    expect(parse([])).toEqual([]);
  });

  it('may carry more: what is known of lens, planted frames, lifted feet and moments', () => {
    const record = {
      ...buildRecord(),
      focal: 1500,
      zoomed: false,
      planted: [buildRecord().points],
      lifted: ['rear-heel'],
      moments: { load: 0, footStrike: 350, contact: 530, captureRate: 240 },
    };
    expect(parse(record)).toEqual(record);
    const answer = answerFor(parse(record) as MeasureRecord);
    const of = (name: string) => answer.measures.find((measure) => measure.name === name)!;
    expect(of('load-to-foot-strike').value).toBe(350);
    expect(of('foot-strike-to-contact').value).toBe(180);
    expect(of('stride-length').status).toBe('estimate');
    expect(parse({ ...record, focal: null, note: 'by hand' })).toEqual({ ...record, focal: null });
  });

  it('answers with the camera and every measure', () => {
    const record = parse(buildRecord()) as MeasureRecord;
    const answer = answerFor(record);
    const { calibration, measures } = measuresOf(buildInput());
    if (!calibration.ok) throw new Error(calibration.sentence);
    expect(answer.version).toBe(1);
    expect(answer.measures).toEqual(measures);
    expect(answer.camera).toMatchObject({
      status: 'found',
      ...calibration.facts,
      focal: calibration.camera.focal,
      position: calibration.camera.position,
      residuals: calibration.corners,
      leftOut: [],
    });
    expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
  });

  it('hands on whether the clip was zoomed', () => {
    const record = { ...(parse(buildRecord()) as MeasureRecord), ground: buildRecord().ground.slice(0, 5) };
    const focal = (zoomed: boolean) => {
      const { camera } = answerFor({ ...record, zoomed });
      return camera.status === 'found' ? camera.focal : NaN;
    };
    expect(focal(true)).not.toBeCloseTo(focal(false), 0);
  });

  it('answers with the reason where there is no camera', () => {
    const record = { ...buildRecord(), ground: buildRecord().ground.slice(0, 3) };
    const answer = answerFor(parse(record) as MeasureRecord);
    expect(answer.camera).toMatchObject({ status: 'refused', reason: 'too-few' });
    expect(answer.measures.every(({ status }) => status === 'refused')).toBe(true);
  });
});

describe('the written-down record', () => {
  const text = readFileSync(
    path.resolve(import.meta.dirname, '../../../lib/domain/measures/RECORD.md'),
    'utf8',
  );

  it('is one that can be read and measured', () => {
    const example = /```json\n([^]*?)```/.exec(text)![1]!;
    const answer = answerFor(parseRecords(example, 'RECORD.md') as MeasureRecord);
    expect(answer.measures[0]).toMatchObject({ name: 'stride-foot-openness', status: 'measured' });
    expect(Math.round(answer.measures[0]!.value!)).toBe(42);
  });

  it('names every corner and every point', () => {
    for (const name of [...GROUND_NAMES, ...JOINT_NAMES]) expect(text).toContain(`\`${name}\``);
  });
});

describe('a record that cannot be read', () => {
  it('is named with the path of the fault', () => {
    expect(faultIn({ frame: { width: 1920 } })).toContain('at frame.height: it is missing');
    expect(faultIn({ bats: 'both' })).toContain('at bats');
    expect(faultIn({ field: 'cricket' })).toContain('at field');
    expect(faultIn({ version: 2 })).toContain('at version');
    expect(faultIn({ clickSd: -1 })).toContain('at clickSd');
    expect(faultIn({ clickSd: '1' })).toContain('at clickSd');
    expect(faultIn({ frame: { width: 0, height: 10 } })).toContain('at frame.width');
    expect(faultIn({ ground: [{ at: 'plate-middle', x: 1, y: 1 }] })).toContain('at ground[0].at');
    expect(faultIn({ points: { nose: { x: 1, y: 1 } } })).toContain('at points.nose');
    expect(faultIn({ points: { head: { x: 1 } } })).toContain('at points.head.y: it is missing');
    expect(faultIn({ ground: undefined })).toContain('at ground: it is missing');
  });

  it('is named within an array', () => {
    const text = JSON.stringify([buildRecord(), { ...buildRecord(), points: { head: { x: 'a', y: 1 } } }]);
    expect(faultOf(text)).toContain('at [1].points.head.x');
    expect(faultOf('[3]')).toContain('at [0]');
    expect(faultOf('"text"')).toContain('at the whole record');
  });

  it('says which number is not finite', () => {
    const text = JSON.stringify({ ...buildRecord(), ground: [{ at: 'plate-apex', x: 12_345, y: 1 }] });
    expect(faultOf(text.replace('12345', '1e999'))).toContain('at ground[0].x: the number is not finite');
    expect(faultOf(text.replace('12345', '-1e999'))).toContain('at ground[0].x: the number is not finite');
  });

  it('says which corner is given twice', () => {
    const { ground } = buildRecord();
    expect(faultIn({ ground: [...ground, ground[2]] })).toContain(
      'at ground[9].at: plate-front-third is given twice',
    );
  });

  it('says that it is no JSON', () => {
    expect(faultOf('{"version": NaN}')).toContain('clip.json holds no valid JSON');
    expect(faultOf('')).toContain('clip.json holds no valid JSON');
  });
});
