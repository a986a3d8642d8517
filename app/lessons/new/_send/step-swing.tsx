import { ChoiceGroup } from '@/app/_ui/choice-group';
import { FieldPlan } from '@/app/_ui/field-plan';
import { TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { PainScale } from '@/app/_ui/pain-scale';
import { PlateGrid } from '@/app/_ui/plate-grid';
import { PAIN_PLACES, type Draft } from '@/lib/domain/lessons/intake';
import { HANDS, PITCH_MODES, SWING_RESULTS } from '@/lib/domain/lessons/state';
import { HAND_WORD, PITCH_MODE_WORD, RESULT_WORD } from '@/lib/domain/lessons/words';
import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import { RateQuestion } from './rate-question';
import type { ClipHere, SendSetting } from './send-types';
import { viewWords } from './view-words';
import styles from './send.module.css';

export type StepProps = {
  setting: SendSetting;
  draft: Draft;
  here: Readonly<Record<string, ClipHere>>;
  /** Sentences for answers that are still missing, by question; shown once the sender tried to go on. */
  missing: ReadonlySet<string>;
  onChange: (patch: Partial<Draft>) => void;
  onClip: (clipId: string, patch: Partial<Draft['clips'][number]>, here?: Partial<ClipHere>) => void;
};

/** Step 2: bats first, because it decides which side is open; then the phone's place, the ball, and pain. */
export const StepSwing = ({ setting, draft, here, missing, onChange, onClip }: StepProps) => {
  const { player, isForOther, checklist } = setting;
  return (
    <div className={styles.questions}>
      <ChoiceGroup
        id="q-bats"
        name="bats"
        legend={isForOther ? `${player.name} bats` : 'You bat'}
        error={missing.has('bats') ? 'Choose a side.' : null}
        value={draft.bats}
        onChange={(bats) => onChange({ bats })}
        choices={HANDS.map((hand) => ({ value: hand, label: HAND_WORD[hand] }))}
      />
      <Views draft={draft} missing={missing} checklist={checklist} here={here} onClip={onClip} />
      <ChoiceGroup
        id="q-mode"
        name="mode"
        legend="The ball came from"
        columns="four"
        error={missing.has('pitch-mode') ? 'Choose one.' : null}
        value={draft.pitchMode}
        onChange={(pitchMode) => onChange({ pitchMode })}
        choices={PITCH_MODES.map((mode) => ({ value: mode, label: PITCH_MODE_WORD[mode] }))}
      />
      <PlateGrid
        name="zone"
        legend="Where was the ball?"
        bats={draft.bats}
        value={draft.pitchZone}
        onChange={(pitchZone) => onChange({ pitchZone })}
      />
      <ChoiceGroup
        name="result"
        legend="How did it come off?"
        value={draft.result}
        onChange={(result) => onChange({ result })}
        choices={SWING_RESULTS.map((result) => ({ value: result, label: RESULT_WORD[result] }))}
      />
      <PainScale
        id="q-pain"
        name="pain"
        legend={isForOther ? `Does anything hurt ${player.name} when swinging?` : 'Any pain when you swing?'}
        hint="If it is more than 0 we ask where, and drills wait until it is better."
        error={missing.has('pain') ? 'Choose a number. 0 is fine.' : null}
        value={draft.painLevel}
        onChange={(painLevel) => onChange({ painLevel, ...(painLevel === 0 ? { painWhere: null } : {}) })}
      />
      {(draft.painLevel ?? 0) > 0 && <PainWhere draft={draft} missing={missing} onChange={onChange} />}
    </div>
  );
};

const Views = ({
  draft,
  here,
  missing,
  checklist,
  onClip,
}: Pick<StepProps, 'draft' | 'here' | 'missing' | 'onClip'> & { checklist: Checklist }) => (
  <>
    {draft.clips.map((clip, index) => {
      const which =
        draft.clips.length > 1
          ? `Clip ${index + 1}: where did the phone stand?`
          : 'Where did the phone stand?';
      const facts = here[clip.id];
      return (
        <div key={clip.id} className={styles.perClip}>
          <FieldPlan
            id={`q-view-${clip.id}`}
            name={`view-${clip.id}`}
            legend={which}
            bats={draft.bats}
            error={missing.has('view') && clip.view === null ? 'Choose where it stood.' : null}
            value={clip.view}
            onChange={(view) => onClip(clip.id, { view })}
            words={clip.view ? viewWords(clip.view, checklist) : undefined}
          />
          <ChoiceGroup
            name={`zoom-${clip.id}`}
            legend={draft.clips.length > 1 ? `Was clip ${index + 1} zoomed in?` : 'Was it zoomed in?'}
            hint="You may leave this open. It helps to measure."
            columns="two"
            // A draft that this device kept from before does not have the answer.
            value={clip.isZoomed == null ? null : clip.isZoomed ? 'yes' : 'no'}
            onChange={(answer) => onClip(clip.id, { isZoomed: answer === 'yes' })}
            choices={[
              { value: 'no', label: 'No' },
              { value: 'yes', label: 'Yes' },
            ]}
          />
          {facts?.isRateOpen && (
            <RateQuestion
              name={`rate-${clip.id}`}
              which={draft.clips.length > 1 ? `clip ${index + 1}` : 'the clip'}
              fileRate={facts.fileRate}
              value={clip.captureRate ?? (facts.isRateUnknown ? 'unknown' : null)}
              onChange={(rate) =>
                rate === 'unknown'
                  ? onClip(clip.id, { captureRate: null }, { isRateUnknown: true })
                  : onClip(clip.id, { captureRate: rate }, { isRateUnknown: false })
              }
            />
          )}
        </div>
      );
    })}
  </>
);

const PainWhere = ({ draft, missing, onChange }: Pick<StepProps, 'draft' | 'missing' | 'onChange'>) => {
  const listed = PAIN_PLACES.find((place) => place === draft.painWhere);
  const isElse = draft.painWhere !== null && !listed;
  const chosen = listed ?? (isElse ? 'somewhere else' : null);
  return (
    <div className={styles.perClip}>
      <ChoiceGroup
        id="q-pain-where"
        name="pain-where"
        legend="Where does it hurt?"
        error={missing.has('pain-where') && !isElse ? 'Choose where.' : null}
        value={chosen}
        onChange={(place) => onChange({ painWhere: place === 'somewhere else' ? '' : place })}
        choices={PAIN_PLACES.map((place) => ({
          value: place,
          label: place,
          isWhole: place === 'somewhere else',
        }))}
      />
      {isElse && (
        <TextField
          label="Where, in your words"
          value={draft.painWhere ?? ''}
          maxLength={120}
          error={missing.has('pain-where') ? 'Write where it hurts.' : null}
          onChange={(event) => onChange({ painWhere: event.target.value })}
        />
      )}
      <Notice kind="info" title="Rest first.">
        <p>
          Your coach sees this at once, and drills wait until it is better. Do not swing through pain. If it
          is strong, does not settle in a few days, or came with a pop, swelling or numbness, see a doctor or
          physical therapist before you swing again.
        </p>
      </Notice>
    </div>
  );
};
