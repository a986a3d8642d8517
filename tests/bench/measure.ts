import { isInPicture } from '@/lib/domain/measures/calibrate';
import { groundPoint } from '@/lib/domain/measures/field';
import { measuresOf } from '@/lib/domain/measures/measure';
import { GROUND_NAMES, type MeasureName } from '@/lib/domain/measures/names';
import type { SpaceMeasure } from '@/lib/domain/measures/quantities';
import {
  aFilming,
  between,
  chanceOf,
  seenAt,
  VIEWS,
  type Chance,
  type Filming,
  type View,
} from '../support/measures/filming';
import {
  aHitter,
  bodyOf,
  clicked,
  flattened,
  PLATE,
  truthOf,
  type Body,
} from '../support/measures/seen-swing';
import { ADULT } from '../support/swing/body';
import { mirroredCamera } from '../support/swing/camera';
import { seeded } from '../support/swing/scene/random';
import { swingOf } from '../support/swing/swing';
import type { Vec3 } from '../support/swing/vec';
import { median, percentile, rms, share } from './measure/figures';
import { momentErrors } from './measure/moments';
import { wrongPairs } from './measure/pairs';

// Filmed swings whose every point is known, clicked by a hand that scatters: what comes out against the truth.
// Counted over every view, height, distance, lens, hand, the plate alone and plate with box.
// `medianErrorDeg`, `p95ErrorDeg`: the stride foot. `coverage95`: share of measured numbers (foot, stride, head, knee)
// whose interval holds the truth. `screenAngleMedianErrorDeg`: the same foot read off the picture against the pitcher
// line. `headRmsCm`, `kneeRmsCm`: from the side, points in the plane of the feet. `eventErrorFramesP95`: suggested foot
// strike and contact by sound at 60 pictures a second. `comparePairsWrong`: frames shown beside another than the nearest.

const CASES = Number(process.env.CASES ?? 2000);
const SEED = Number(process.env.SEED ?? 20_251_125);
const chance = chanceOf(seeded(SEED));
const views = Object.keys(VIEWS) as View[];

interface Case {
  view: View;
  hasBox: boolean;
  filming: Filming;
  body: Body;
  bats: 'right' | 'left';
  clickSd: number;
}

const isFilmable = (filming: Filming, body: Body, bats: 'right' | 'left') =>
  [...PLATE.map((at) => groundPoint('baseball', bats, at)), ...Object.values(body)].every((point) =>
    isInPicture(seenAt(filming, point), filming),
  );

function aCase(chance: Chance, index: number): Case {
  const view = views[index % views.length]!;
  for (;;) {
    const hitter = aHitter(chance);
    const swing = swingOf(hitter);
    const body = bodyOf(swing.poseAt(swing.timing.plant), hitter.bats);
    const side = hitter.bats === 'right' ? 1 : -1;
    const feet: Vec3 = [
      (body['stride-heel'][0] + body['rear-heel'][0]) / 2,
      side * body['stride-heel'][1],
      0,
    ];
    const right = aFilming(chance, view, feet, hitter.body.stature / ADULT.stature);
    const filming = side === 1 ? right : { ...right, ...mirroredCamera(right), roll: right.roll };
    const clickSd = between(chance, 0.6, 1.5);
    const hasBox = Math.floor(index / views.length) % 2 === 1;
    if (isFilmable(filming, body, hitter.bats))
      return { view, hasBox, filming, body, bats: hitter.bats, clickSd };
  }
}

const OF_INTEREST = [
  'stride-foot-openness',
  'stride-length',
  'head-ahead-of-belt',
  'front-knee-past-ankle',
] as const;

/** The foot's openness as somebody would read it off the picture: against the pitcher line as it looks there. */
function onScreen({ filming, body }: Case): number {
  const heel = body['stride-heel'];
  const at = (point: Vec3) => seenAt(filming, point);
  const [h, t, p] = [at(heel), at(body['stride-toe']), at([heel[0] + 0.3, heel[1], 0])];
  const turn = Math.atan2(t.y - h.y, t.x - h.x) - Math.atan2(p.y - h.y, p.x - h.x);
  return 90 - (Math.abs(Math.atan2(Math.sin(turn), Math.cos(turn))) * 180) / Math.PI;
}

const errors: { hasBox: boolean; view: View; error: number }[] = [];
const screenErrors: number[] = [];
const covered: { name: SpaceMeasure; isIn: boolean }[] = [];
const inPlane: Record<'head-ahead-of-belt' | 'front-knee-past-ankle', number[]> = {
  'head-ahead-of-belt': [],
  'front-knee-past-ankle': [],
};
let refused = 0;

for (let i = 0; i < CASES; i++) {
  const one = aCase(chance, i);
  const { filming, body, bats, clickSd, hasBox, view } = one;
  const facts = { bats, field: 'baseball', clickSd } as const;
  const corners = hasBox ? GROUND_NAMES : PLATE;
  const truth = truthOf(body, bats);
  const { measures } = measuresOf(clicked(filming, body, facts, corners, chance));
  const of = (name: MeasureName) => measures.find((measure) => measure.name === name)!;
  for (const name of OF_INTEREST) {
    const { status, interval } = of(name);
    if (status === 'measured' && interval)
      covered.push({ name, isIn: interval[0] <= truth[name] && truth[name] <= interval[1] });
  }
  const foot = of('stride-foot-openness');
  screenErrors.push(Math.abs(onScreen(one) - truth['stride-foot-openness']));
  if (foot.value === null) refused++;
  else errors.push({ hasBox, view, error: Math.abs(foot.value - truth['stride-foot-openness']) });
  if (view === 'side') {
    const flat = flattened(body);
    const { measures: flatMeasures } = measuresOf(clicked(filming, flat, facts, corners, chance));
    const flatTruth = truthOf(flat, bats);
    for (const name of ['head-ahead-of-belt', 'front-knee-past-ankle'] as const) {
      const { value } = flatMeasures.find((measure) => measure.name === name)!;
      if (value !== null) inPlane[name].push(value - flatTruth[name]);
    }
  }
}

const moments = momentErrors(SEED);
const errorsWhere = (keep: (one: (typeof errors)[number]) => boolean) =>
  errors.filter(keep).map((one) => one.error);
const aside = {
  seed: SEED,
  medianPlateAlone: median(errorsWhere((one) => !one.hasBox)),
  medianWithBox: median(errorsWhere((one) => one.hasBox)),
  byView: Object.fromEntries(views.map((view) => [view, median(errorsWhere((one) => one.view === view))])),
  moments: {
    footStrikeP95: percentile(moments.footStrike, 0.95),
    bySoundP95: percentile(moments.bySound, 0.95),
    byHandsP95: percentile(moments.byHands, 0.95),
    footStrikeWithheldShare: moments.withheldShare,
  },
  coverage: Object.fromEntries(
    OF_INTEREST.map((name) => [
      name,
      share(covered.filter((one) => one.name === name).map((one) => one.isIn)),
    ]),
  ),
};
console.log(JSON.stringify(aside));
console.log(
  JSON.stringify({
    cases: CASES,
    medianErrorDeg: median(errorsWhere(() => true)),
    p95ErrorDeg: percentile(
      errorsWhere(() => true),
      0.95,
    ),
    coverage95: share(covered.map((one) => one.isIn)),
    screenAngleMedianErrorDeg: median(screenErrors),
    refusedShare: refused / CASES,
    headRmsCm: rms(inPlane['head-ahead-of-belt']),
    kneeRmsCm: rms(inPlane['front-knee-past-ankle']),
    eventErrorFramesP95: percentile([...moments.footStrike, ...moments.bySound], 0.95),
    comparePairsWrong: wrongPairs(SEED),
  }),
);
