import { ChoiceGroup } from '@/app/_ui/choice-group';
import { Field } from '@/app/_ui/field';
import { dayWords } from '@/app/_ui/moment';
import type { LessonId } from '@/lib/domain/shared/ids';
import type { StepProps } from './step-swing';
import type { Followed } from './send-types';
import styles from './send.module.css';

const MOST = 600;

type Props = Pick<StepProps, 'setting' | 'draft' | 'missing' | 'onChange'> & {
  followsId: LessonId | null;
  now: Date;
  onFollow: (id: LessonId | null) => void;
};

/** Step 3: what this lesson follows, if anything, and the player's own question. */
export const StepQuestion = ({ setting, draft, missing, followsId, now, onChange, onFollow }: Props) => {
  const [latest] = setting.canFollow;
  const followed = setting.canFollow.find((lesson) => lesson.id === followsId) ?? null;
  const offered = followed ?? latest;
  const left = MOST - draft.question.length;
  return (
    <div className={styles.questions}>
      {offered && (
        <div className={styles.perClip}>
          <ChoiceGroup<string>
            name="follows"
            legend="Is this about the last fix?"
            value={followsId ? 'follows' : 'new'}
            onChange={(answer) => onFollow(answer === 'follows' ? offered.id : null)}
            choices={[
              { value: 'follows', label: `Yes, lesson ${offered.number}` },
              { value: 'new', label: 'No, something new' },
            ]}
          />
          {followed && <FollowedWords followed={followed} now={now} timeZone={setting.program.timeZone} />}
        </div>
      )}
      <Field
        label={
          <span className={styles.ask}>
            {setting.isForOther
              ? `What does ${setting.player.name} want to know?`
              : 'What do you want to know?'}
          </span>
        }
        hint={
          setting.isForOther
            ? `In ${setting.player.name}’s own words, if you can. One thing is best.`
            : 'In your own words. One thing is best: where does it feel wrong, what did you try?'
        }
        error={missing.has('question') ? 'Write what you want looked at, even one line.' : null}
      >
        {(wiring) => (
          <textarea
            {...wiring}
            className={`write asked ${styles.question}`}
            rows={4}
            maxLength={MOST}
            value={draft.question}
            onChange={(event) => onChange({ question: event.target.value })}
          />
        )}
      </Field>
      {left < 100 && (
        <p className="small soft num" role="status">
          {left} letters left
        </p>
      )}
    </div>
  );
};

/** The fix of the lesson before, so that the next swing is held against it. */
const FollowedWords = ({ followed, now, timeZone }: { followed: Followed; now: Date; timeZone: string }) => (
  <div className={styles.followed}>
    <p className="over">
      Fix first then{followed.submittedAt && <>, lesson of {dayWords(followed.submittedAt, now, timeZone)}</>}
    </p>
    <p className={`slab ${styles.fix}`}>{followed.fixFirst ?? 'Nothing was marked to fix first.'}</p>
  </div>
);
