import * as z from 'zod';

/** How the ball comes, from the easiest to the hardest. */
export const DRILL_STAGES = ['tee', 'toss', 'machine', 'live'] as const;
export type DrillStage = (typeof DRILL_STAGES)[number];

export const STAGE_WORD = {
  tee: 'off a tee',
  toss: 'soft toss',
  machine: 'machine',
  live: 'live pitching',
} as const satisfies Record<DrillStage, string>;

/** A place on the ground in plate coordinates, metres: origin at the apex, +x to the pitcher, +y to third base. */
export const spotSchema = z.object({
  x: z.number().min(-1.5, 'That is too far behind the plate.').max(2, 'That is too far before the plate.'),
  y: z.number().min(-1.5, 'That is too far from the plate.').max(1.5, 'That is too far from the plate.'),
});
export type Spot = z.infer<typeof spotSchema>;

/** How much and how a drill is practised. The limits keep typing errors out; no study fixes sets and reps. */
export const doseSchema = z.object({
  sets: z.int().min(1, 'Choose one set at least.').max(10, 'Ten sets at most.'),
  reps: z.int().min(1, 'Choose one swing at least.').max(30, 'Thirty swings a set at most.'),
  restSeconds: z.int().min(0).max(600, 'Ten minutes of rest at most.'),
  daysAWeek: z.int().min(1, 'Choose one day at least.').max(7, 'A week has seven days.'),
  stage: z.enum(DRILL_STAGES),
  tee: spotSchema.nullable(),
  /** Whether somebody or a replay tells about each swing; without, the player swings and looks afterwards. */
  hasFeedback: z.boolean(),
  stopRule: z.string().max(200),
});
export type Dose = z.infer<typeof doseSchema>;

/** What a coach starts from: two sets of eight off a tee, three days a week (common practice, no source). */
export const plainDose = (stage: DrillStage, tee: Spot | null): Dose => ({
  sets: 2,
  reps: 8,
  restSeconds: 60,
  daysAWeek: 3,
  stage,
  tee: stage === 'tee' ? tee : null,
  hasFeedback: false,
  stopRule: 'Stop when the swing gets sloppy. Stop at once when anything hurts.',
});

const counted = (count: number, one: string, more: string) => `${count} ${count === 1 ? one : more}`;

/** A dose in words: "2 sets of 8 off a tee, 60 s rest, 3 days a week, without feedback". */
export const doseWords = (dose: Dose): string =>
  [
    `${counted(dose.sets, 'set', 'sets')} of ${dose.reps} ${STAGE_WORD[dose.stage]}`,
    ...(dose.restSeconds > 0 && dose.sets > 1 ? [`${dose.restSeconds} s rest`] : []),
    `${counted(dose.daysAWeek, 'day', 'days')} a week`,
    dose.hasFeedback ? 'with feedback' : 'without feedback',
  ].join(', ');

const cm = (metres: number) => Math.round(Math.abs(metres) * 100);

/** A spot in words, from the apex of the plate: "30 cm toward the pitcher, 15 cm toward first base". */
export const spotWords = ({ x, y }: Spot): string => {
  const parts = [
    ...(cm(x) === 0 ? [] : [`${cm(x)} cm ${x > 0 ? 'toward the pitcher' : 'toward the catcher'}`]),
    ...(cm(y) === 0 ? [] : [`${cm(y)} cm toward ${y > 0 ? 'third' : 'first'} base`]),
  ];
  return parts.length === 0 ? 'at the point of the plate' : `${parts.join(', ')} from the point of the plate`;
};
