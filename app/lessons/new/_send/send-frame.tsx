import Link from 'next/link';
import type { ReactNode } from 'react';
import type { ClipCardProps } from './clip-card';
import { ClipPreview } from './clip-preview';
import { goingWords, GoingLine } from './upload-line';
import { STEPS, type Going, type StepId } from './send-types';
import styles from './send.module.css';

type Props = {
  programName: string;
  /** Null once it is sent. */
  step: StepId | null;
  /** All clips together, or null with nothing to tell. */
  going: Going | null;
  /** The first clip, for the picture beside the bar. */
  lead: ClipCardProps | null;
  count?: number;
  onPauseAll?: () => void;
  onResumeAll?: () => void;
  /** The row at the thumb: back, and the page's one action. */
  footer?: ReactNode;
  children: ReactNode;
};

/** What stands around every step: the way out, the steps, the clips on their way, and the action at the thumb. */
export const SendFrame = (props: Props) => {
  const { programName, step, going, lead, count = 1, onPauseAll, onResumeAll, footer, children } = props;
  const at = STEPS.findIndex((one) => one.id === step);
  const isMoving = going?.kind === 'sending' || going?.kind === 'waiting';
  return (
    <>
      <a className="skip" href="#main">
        To the form
      </a>
      <header className={`top ${styles.top}`}>
        <Link className="name" href="/lessons">
          {programName}
        </Link>
        {step && (
          <Link className={styles.leave} href="/lessons">
            Leave, keep it all
          </Link>
        )}
      </header>
      <main id="main" tabIndex={-1} className={`page narrow ${styles.page}`}>
        {step && (
          <ol className={styles.steps} aria-label="Steps">
            {STEPS.map(({ id, word }, index) => (
              <li key={id} className={index < at ? styles.done : index === at ? styles.hereNow : undefined}>
                <a href={`#${id}`} aria-current={index === at ? 'step' : undefined}>
                  {word}
                </a>
              </li>
            ))}
          </ol>
        )}
        {going && going.kind !== 'held' && (
          <section className={styles.going} aria-label="Your clips on their way">
            {lead && <ClipPreview file={lead.file} number={lead.number} />}
            <GoingLine going={going} label={count > 1 ? 'Clips sent' : 'Clip sent'} />
            {isMoving && onPauseAll && (
              <button type="button" className="btn quiet small" onClick={onPauseAll}>
                Pause
              </button>
            )}
            {going.kind === 'paused' && onResumeAll && (
              <button type="button" className="btn quiet small" onClick={onResumeAll}>
                Go on
              </button>
            )}
            {going.kind === 'failed' && (
              <a className="btn quiet small" href="#clip">
                See it
              </a>
            )}
          </section>
        )}
        <p className="sr" role="status">
          {/* Only the turns are spoken, never the count of bytes. */}
          {going && going.kind !== 'sending' && going.kind !== 'waiting' ? goingWords(going).title : ''}
        </p>
        {children}
        {footer && (
          <div className={styles.bottom}>
            <div>{footer}</div>
          </div>
        )}
      </main>
    </>
  );
};
