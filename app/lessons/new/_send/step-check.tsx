import { Icon } from '@/app/_ui/icon';
import { momentWords } from '@/app/_ui/moment';
import { Notice } from '@/app/_ui/notice';
import { Pennant } from '@/app/_ui/pennant';
import { MISSING_WORDS, type Draft, type MissingAnswer } from '@/lib/domain/lessons/intake';
import { answeredBetween, promisedBy } from '@/lib/domain/lessons/promise';
import { HAND_WORD, PITCH_MODE_WORD, RESULT_WORD, VIEW_WORD, zoneWords } from '@/lib/domain/lessons/words';
import type { PackId } from '@/lib/domain/shared/ids';
import { MISSING_AT } from './missing-at';
import { PayChoice } from './pay-choice';
import type { Followed, Going, SendSetting, StepId } from './send-types';
import styles from './send.module.css';

type Props = {
  setting: SendSetting;
  draft: Draft;
  followed: Followed | null;
  goings: readonly Going[];
  missing: readonly MissingAnswer[];
  now: Date;
  refusal: string | null;
  packId: PackId | null;
  onPack: (packId: PackId | null) => void;
};

/** Step 4: everything that will be sent, what it costs, and when the answer comes. */
export const StepCheck = ({ setting, draft, followed, goings, missing, now, refusal, ...pay }: Props) => {
  const { program, player, isForOther } = setting;
  const promise = promisedBy(now, program);
  const answered = answeredBetween(program, now, promise);
  const zone = draft.pitchZone === null ? null : zoneWords(draft.pitchZone, draft.bats);
  const ball = [
    draft.pitchMode && PITCH_MODE_WORD[draft.pitchMode],
    zone && `${zone.height.toLowerCase()}, ${zone.side}`,
    draft.result && RESULT_WORD[draft.result],
  ].filter(Boolean);
  return (
    <div className={styles.questions}>
      {refusal && (
        <Notice kind="refused" title="It was not sent yet.">
          <p>{refusal}</p>
        </Notice>
      )}
      {missing.length > 0 && (
        <Notice kind="plain" title="Still to answer">
          <ul className={styles.todo}>
            {missing.map((what) => (
              <li key={what}>
                <a href={`#${MISSING_AT[what]}`}>{MISSING_WORDS[what]}</a>
              </li>
            ))}
          </ul>
        </Notice>
      )}
      <dl className={styles.check}>
        <Line label="Clips" step="clip">
          {draft.clips.length === 0 ? 'none yet' : clipWords(draft, goings)}
        </Line>
        <Line label={isForOther ? player.name : 'You'} step="this-swing">
          {draft.bats ? `${isForOther ? 'bats' : 'bat'} ${HAND_WORD[draft.bats]}` : 'side not said yet'}
        </Line>
        <Line label="The ball" step="this-swing">
          {ball.length > 0 ? ball.join('; ') : 'not said yet'}
        </Line>
        <Line label="Pain" step="this-swing">
          {draft.painLevel === null && 'not answered yet'}
          {draft.painLevel === 0 && 'none'}
          {(draft.painLevel ?? 0) > 0 && (
            <Pennant>
              {draft.painLevel} of 10{draft.painWhere ? `, ${draft.painWhere}` : ''}. Drills wait.
            </Pennant>
          )}
        </Line>
        {followed && (
          <Line label="Follows" step="question">
            lesson {followed.number}
            {followed.fixFirst && `: ${followed.fixFirst}`}
          </Line>
        )}
        <Line label="Question" step="question">
          {draft.question.trim() ? <q className="asked">{draft.question.trim()}</q> : 'not written yet'}
        </Line>
      </dl>
      <div className={styles.terms}>
        <p className="slab">Your coach answers by {momentWords(promise, now, program.timeZone)}.</p>
        {answered ? <p>{answered}</p> : null}
        <p className="small soft">
          If you send it now. That time then stands on the lesson; should it ever have to be later, you are
          told and told why.
        </p>
      </div>
      <PayChoice setting={setting} now={now} {...pay} />
    </div>
  );
};

const clipWords = (draft: Draft, goings: readonly Going[]) => (
  <ul>
    {draft.clips.map((clip, index) => {
      const going = goings[index];
      const state =
        going?.kind === 'stored' ? 'there' : going?.kind === 'failed' ? 'did not go through' : 'on its way';
      return (
        <li key={clip.id}>
          {clip.view ? VIEW_WORD[clip.view] : `Clip ${index + 1}`}, {state}
        </li>
      );
    })}
  </ul>
);

const Line = ({ label, step, children }: { label: string; step: StepId; children: React.ReactNode }) => (
  <div>
    <dt className="over">{label}</dt>
    <dd>
      <div>{children}</div>
      <a className="btn bare" href={`#${step}`} aria-label={`Change: ${label}`}>
        <Icon name="right" />
      </a>
    </dd>
  </div>
);
