import { PlanDrawing } from '@/app/_ui/plan-drawing';
import type { Hand } from '@/lib/domain/lessons/state';
import styles from './guide.module.css';

type Props = { bats: Hand | null };

/**
 * Where to put the phone, drawn, before anything is picked. Distances and height are what the measuring of front foot
 * and stride needs (the program's own choice); the clear space is arm, bat and a step, with a margin.
 */
export const CaptureGuide = ({ bats }: Props) => {
  const hand = bats ?? 'right';
  return (
    <section className={styles.guide} aria-labelledby="guide-title">
      <h2 id="guide-title" className="sr">
        How to film it
      </h2>
      <figure className={`plan ${styles.plan}`}>
        <PlanDrawing bats={hand} view="open_side" isLow />
        <figcaption className="sr">
          Seen from above: the phone stands on the open side, facing the hitter’s chest across the plate. For
          a {hand === 'right' ? 'righty that is the first-base side.' : 'lefty that is the third-base side.'}
        </figcaption>
        <span
          aria-hidden="true"
          className={`${styles.phone} ${hand === 'right' ? styles.right : styles.left}`}
        >
          <svg viewBox="0 0 14 22" focusable="false">
            <rect x="1" y="1" width="12" height="20" rx="1.5" />
            <circle cx="7" cy="7" r="2" />
          </svg>
          phone
        </span>
        <span
          aria-hidden="true"
          className={`${styles.steps} ${hand === 'right' ? styles.right : styles.left}`}
        >
          3 to 4 m
        </span>
      </figure>
      <ol className={styles.how}>
        <li>
          <span>
            <b>Stand the phone on the open side,</b> facing the chest, 3 to 4 m away (four big steps). Prop it
            still and upright or sideways, as high as a grown-up’s chest.
          </span>
        </li>
        <li>
          <span>
            <b>Get the whole hitter and the whole plate in,</b> bat tip to shoes. No plate? Lay down something
            flat in its place.
          </span>
        </li>
        <li>
          <span>
            <b>Turn on slow motion</b> if the phone has it. More pictures, surer answers.
          </span>
        </li>
        <li>
          <span>
            <b>One swing a clip.</b> A second clip from behind shows what this side hides.
          </span>
        </li>
      </ol>
      <p className={`small ${styles.safe}`}>
        Look around before you swing: nobody, no pet and no window within 3 m, also overhead, and nobody where
        a ball or a bat could fly. A helmet for any ball that moves. Under 13, a grown-up is there. The rules
        of your place and what your coach says come before this page.
      </p>
    </section>
  );
};
