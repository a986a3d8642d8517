import { expect, it } from 'vitest';
import { sayChosen, sayCursor, sayDone, sayHandle, sayPointSet } from '@/lib/review/a11y/announce';
import { buildMark } from '../../domain/marks/build-mark';

const HD = { width: 1920, height: 1080 };
const plumb = buildMark('plumb');

it('says what was done, and to what', () => {
  expect(sayDone('Drawn', [plumb], HD)).toBe(
    'Drawn: Plumb line, white, from the upper middle down, frame 138.',
  );
  expect(sayDone('Rubbed out', [plumb, plumb], HD)).toBe('Rubbed out: 2 marks.');
  expect(sayDone('Taken back', [], HD)).toBe('Taken back: nothing.');
});

it('says where the cross is and which keys there are', () => {
  expect(sayCursor('Line', { x: 0.5, y: 0.25 })).toBe(
    'Line. Cross at 50 across, 25 down, upper middle. Arrow keys move it, Enter sets a point, Escape lets go.',
  );
  expect(sayPointSet(1, { x: 0.5, y: 0.5 })).toBe('Point 1 set at 50 across, 50 down, middle.');
});

it('says what is chosen and which handle is in hand', () => {
  expect(sayChosen(plumb, HD)).toContain('Enter takes a handle');
  expect(sayHandle(plumb, 1)).toBe('Handle 2 of 2, at 50 across, 60 down, middle.');
  expect(sayHandle(plumb, null)).toBe('The whole plumb line.');
  expect(sayHandle(plumb, 9)).toBe('The whole plumb line.');
});
