import { suggestMoments, type TrackName, type Tracks } from '@/lib/domain/measures/events';
import { contactBySound } from '@/lib/domain/measures/sound-peak';
import {
  aFilming,
  chanceOf,
  seenAt,
  VIEWS,
  type Chance,
  type Filming,
  type View,
} from '../../support/measures/filming';
import { aHitter } from '../../support/measures/seen-swing';
import { ADULT } from '../../support/swing/body';
import { mirroredCamera } from '../../support/swing/camera';
import { DEMO_CLIPS } from '../../support/swing/demo-clips';
import type { Joint } from '../../support/swing/pose';
import { seeded } from '../../support/swing/scene/random';
import { SOUND_RATE, swingSound } from '../../support/swing/swing-sound';
import { swingOf, type Swing } from '../../support/swing/swing';

const RATE = 60;
const FRAMES = 105;
const SWINGS = 400;
/** Pixels by which a followed point scatters from frame to frame. */
const FOLLOW_SD = 1.5;

const FOLLOWED: Record<TrackName, Joint> = {
  'left-wrist': 'leftWrist',
  'right-wrist': 'rightWrist',
  'left-hip': 'leftHip',
  'right-hip': 'rightHip',
  'left-ankle': 'leftAnkle',
  'right-ankle': 'rightAnkle',
  'left-toe': 'leftToe',
  'right-toe': 'rightToe',
};

/** A swing's points followed at 60 pictures a second by somebody or something that scatters by `sd` pixels. */
export function tracksOf(swing: Swing, filming: Filming, start: number, sd: number, chance: Chance): Tracks {
  const poses = Array.from({ length: FRAMES }, (_, i) => swing.poseAt(start + i / RATE).joints);
  return Object.fromEntries(
    Object.entries(FOLLOWED).map(([name, joint]) => [
      name,
      poses.map((joints) => {
        const { x, y } = seenAt(filming, joints[joint]);
        return { x: x + sd * chance.normal(), y: y + sd * chance.normal() };
      }),
    ]),
  );
}

/** Frames by which suggestions lie beside the truth, over swings, views and hands; and how often none was made. */
export function momentErrors(seed: number) {
  const chance = chanceOf(seeded(seed));
  const views = Object.keys(VIEWS) as View[];
  const errors = { footStrike: [] as number[], bySound: [] as number[], byHands: [] as number[] };
  for (let i = 0; i < SWINGS; i++) {
    const hitter = aHitter(chance);
    const swing = swingOf(hitter);
    const tall = hitter.body.stature / ADULT.stature;
    const right = aFilming(chance, views[i % views.length]!, [0, 1, 0], tall);
    const filming =
      hitter.bats === 'right' ? right : { ...right, ...mirroredCamera(right), roll: right.roll };
    const start = -1.25 + (chance.even() - 0.5) / RATE;
    const found = suggestMoments(tracksOf(swing, filming, start, FOLLOW_SD, chance), RATE);
    if (!found) throw new Error('A swing was not seen at all.');
    const error = (frame: number, time: number) => Math.abs(frame - (time - start) * RATE);
    if (found.footStrike !== null) errors.footStrike.push(error(found.footStrike, swing.timing.toe));
    errors.byHands.push(error(found.contactByHands, 0));
  }
  for (const clip of DEMO_CLIPS) {
    const heard = contactBySound(swingSound(clip), SOUND_RATE);
    if (heard === null) throw new Error('The crack of the bat was not heard.');
    errors.bySound.push(Math.abs(heard + clip.start) * RATE);
  }
  return { ...errors, withheldShare: 1 - errors.footStrike.length / SWINGS };
}
