import { ChoiceGroup } from '@/app/_ui/choice-group';
import { Icon } from '@/app/_ui/icon';
import { Notice } from '@/app/_ui/notice';
import { MAX_CLIPS } from '@/lib/domain/clips/clip';
import { HANDS } from '@/lib/domain/lessons/state';
import { HAND_WORD } from '@/lib/domain/lessons/words';
import { CaptureGuide } from './capture-guide';
import { ClipCard, type ClipCardProps } from './clip-card';
import { PickButtons } from './pick-buttons';
import type { StepProps } from './step-swing';
import styles from './send.module.css';

/** A file that was not taken, with the reason and what to do. */
export interface RefusedFile {
  id: string;
  name: string;
  reason: string;
}

type Props = Pick<StepProps, 'setting' | 'draft' | 'missing' | 'onChange'> & {
  cards: ClipCardProps[];
  refused: readonly RefusedFile[];
  isLooking: boolean;
  onPick: (files: File[]) => void;
  onForget: (refusedId: string) => void;
};

/** Step 1: how to film it, then up to four clips, each on its way as soon as it is picked (and cut, if it is long). */
export const StepClip = (props: Props) => {
  const { setting, draft, missing, cards, refused, isLooking, onPick, onForget, onChange } = props;
  const isFirst = cards.length === 0;
  const isSideOpen = setting.player.bats === null;
  return (
    <div className={styles.questions}>
      {isFirst && isSideOpen && (
        <ChoiceGroup
          name="bats-first"
          legend={setting.isForOther ? `${setting.player.name} bats` : 'You bat'}
          hint="It decides which side the phone goes on."
          value={draft.bats}
          onChange={(bats) => onChange({ bats })}
          choices={HANDS.map((hand) => ({ value: hand, label: HAND_WORD[hand] }))}
        />
      )}
      {isFirst && <CaptureGuide bats={draft.bats} />}
      {refused.map((file) => (
        <Notice key={file.id} kind="refused" title={`${file.name} was not taken.`}>
          <p>{file.reason}</p>
          <div className="acts">
            <button type="button" className="btn small" onClick={() => onForget(file.id)}>
              All right
            </button>
          </div>
        </Notice>
      ))}
      {missing.has('clip') && isFirst && <p className="err">Pick a clip first.</p>}
      {cards.length > 0 && (
        <ul className={styles.cards}>
          {cards.map((card) => (
            <li key={card.clipId}>
              <ClipCard {...card} />
            </li>
          ))}
        </ul>
      )}
      <p className="small soft" role="status">
        {isLooking ? 'Looking at the file …' : ''}
      </p>
      {isFirst && (
        <p className="small soft">
          MP4, MOV, WebM or MKV, up to 3 minutes. Where it was filmed is taken out of the file before it
          leaves this device. No clip at hand? <a href="#this-swing">Answer the questions first.</a>
        </p>
      )}
      {!isFirst && cards.length < MAX_CLIPS && (
        <PickButtons isFirst={false} left={MAX_CLIPS - cards.length} onPick={onPick} />
      )}
      {cards.length >= MAX_CLIPS && (
        <p className="small soft">Four clips are the most a lesson takes. Remove one to add another.</p>
      )}
      {!isFirst && (
        <details className={styles.again}>
          <summary>
            <Icon name="camera" /> How to film it
          </summary>
          <CaptureGuide bats={draft.bats} />
        </details>
      )}
    </div>
  );
};
