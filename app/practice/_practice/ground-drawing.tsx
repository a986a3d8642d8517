import type { Drawing } from '@/lib/domain/drills/drill';
import { spotWords, type Spot } from '@/lib/domain/drills/dose';
import type { Hand } from '@/lib/domain/lessons/state';
import css from './practice.module.css';

/** From plate coordinates (metres) to the drawing: 100 units a metre, pitcher at the top, third base at the left. */
export const onDrawing = ({ x, y }: Spot): { x: number; y: number } => ({
  x: 160 - 100 * y,
  y: 150 - 100 * x,
});
/** The other way round. */
export const offDrawing = (point: { x: number; y: number }): Spot => ({
  x: (150 - point.y) / 100,
  y: (160 - point.x) / 100,
});

/** The drawing as it stands for a hitter who bats left: mirrored over the line to the pitcher. */
export const forHand = (drawing: Drawing, bats: Hand | null): Drawing =>
  bats === 'left'
    ? {
        ...drawing,
        tee: drawing.tee && { ...drawing.tee, y: -drawing.tee.y },
        frontFoot: { ...drawing.frontFoot, y: -drawing.frontFoot.y },
        backFoot: { ...drawing.backFoot, y: -drawing.backFoot.y },
        toward: -drawing.toward,
      }
    : drawing;

/** A drawing in words, its twin for those who do not see it. */
export const drawingWords = (drawing: Drawing): string =>
  [
    drawing.tee ? `The tee stands ${spotWords(drawing.tee)}.` : 'No tee.',
    `The front foot is ${spotWords(drawing.frontFoot)}, the back foot ${spotWords(drawing.backFoot)}.`,
    drawing.toward === 0
      ? 'The ball goes at the pitcher.'
      : `The ball goes ${Math.abs(drawing.toward)} degrees from the pitcher toward ${drawing.toward > 0 ? 'third' : 'first'} base.`,
  ].join(' ');

// Plate 17 in wide, boxes 4 by 6 ft and 6 in from it (Official Baseball Rules, 2.02 and the diagram of the boxes).
const PLATE = 'M138.4 106.8h43.2v21.6L160 150l-21.6-21.6Z';
const BOXES = 'M1.3 37h121.9v182.9H1.3ZM196.8 37h121.9v182.9H196.8Z';

/** Plate, boxes, feet, tee and direction of the ball, seen from above. */
export const GroundDrawing = ({ drawing, children }: { drawing: Drawing; children?: React.ReactNode }) => {
  const [front, back] = [onDrawing(drawing.frontFoot), onDrawing(drawing.backFoot)];
  const from = onDrawing(drawing.tee ?? { x: 0.4, y: 0 });
  const way = (drawing.toward * Math.PI) / 180;
  const to = { x: from.x - 62 * Math.sin(way), y: from.y - 62 * Math.cos(way) };
  return (
    <svg
      viewBox="0 0 320 260"
      className={css.ground}
      {...(children ? {} : { role: 'img', 'aria-label': drawingWords(drawing) })}
    >
      <path d={BOXES} className={css.line} />
      <path d={PLATE} className={css.plate} />
      <line x1={from.x} y1={from.y} x2={to.x} y2={to.y} className={css.way} />
      <circle cx={to.x} cy={to.y} r="4" className={css.wayend} />
      {[front, back].map((foot, index) => (
        <ellipse key={index} cx={foot.x} cy={foot.y} rx="17" ry="7" className={css.foot} />
      ))}
      {drawing.tee ? (
        <>
          <circle cx={from.x} cy={from.y} r="9" className={css.tee} />
          <circle cx={from.x} cy={from.y} r="3.5" className={css.ball} />
        </>
      ) : null}
      {children}
    </svg>
  );
};
