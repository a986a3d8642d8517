'use client';

import { useEffect, useRef, useState } from 'react';
import { MAX_CLIPS } from '@/lib/domain/clips/clip';
import { missingForSend } from '@/lib/domain/lessons/intake';
import type { ClipFacts } from '@/lib/domain/lessons/lesson';
import { ClipDialogs } from './clip-dialogs';
import type { ClipTools } from './clip-sender';
import { KeepingLine } from './keeping-line';
import { MISSING_AT } from './missing-at';
import { PickButtons } from './pick-buttons';
import { SendFrame } from './send-frame';
import { SentWords } from './sent-words';
import { StepCheck } from './step-check';
import { StepClip } from './step-clip';
import { StepFooter } from './step-footer';
import { StepQuestion } from './step-question';
import { StepSwing } from './step-swing';
import { togetherOf } from './together-of';
import { useClips } from './use-clips';
import { useDraft, type Opened } from './use-draft';
import { useSending } from './use-sending';
import { useStep } from './use-step';
import { STEPS, type SendSetting, type StepId } from './send-types';
import styles from './send.module.css';

const TITLES = {
  clip: 'Your swing, on film',
  'this-swing': 'About this swing',
  question: 'Your question',
  send: 'Check and send',
} as const satisfies Record<StepId, string>;

type Props = { setting: SendSetting; opened: Opened; stored: ClipFacts[]; now: Date; tools: ClipTools };

/** The whole form: four steps over one draft, with the clips on their way beside it. */
export const SendForm = ({ setting, opened, stored, now, tools }: Props) => {
  const draft = useDraft(setting, opened);
  const clips = useClips(draft, opened, stored, tools);
  const { step, go } = useStep();
  // Of a family's packs the one that ends first, unless the sender says otherwise: it is paid already.
  const [packId, setPackId] = useState(setting.packs[0]?.id ?? null);
  const { sent, isSending, refusal, send } = useSending(draft, opened.lessonId, packId);
  const title = useRef<HTMLHeadingElement>(null);
  const [pointedOut, setPointedOut] = useState<StepId | null>(null);

  const { draft: answers, followsId } = draft.value;
  const missing = missingForSend(answers);
  const isPointedOut = pointedOut === step && missing.some((what) => MISSING_AT[what] === step);
  const goings = clips.cards.map((card) => card.going);
  const lead = clips.cards[0] ?? null;
  const hasSent = sent !== null;

  // A new step is a new page for those who hear or tab through it; the first one is where the page put them.
  const shown = useRef(`${step} ${hasSent}`);
  useEffect(() => {
    const seen = `${step} ${hasSent}`;
    if (shown.current === seen) return;
    shown.current = seen;
    window.scrollTo(0, 0);
    title.current?.focus({ preventScroll: true });
  }, [step, hasSent]);

  // What was pointed out may lie out of sight: go to the first open answer, for eyes and for the keyboard.
  useEffect(() => {
    if (!pointedOut) return;
    const question = document.querySelector('main .err')?.closest('fieldset, .fld');
    question?.querySelector<HTMLElement>('input, textarea')?.focus();
    question?.scrollIntoView({ block: 'center' });
  }, [pointedOut]);

  const next = () => {
    if (step === 'send') return void send(missing.length);
    const isOpen = missing.some((what) => MISSING_AT[what] === step);
    // The first press points out what is open here; the second goes on, because it can be answered later.
    if (isOpen && !isPointedOut) return setPointedOut(step);
    go(STEPS[STEPS.findIndex((one) => one.id === step) + 1]?.id ?? 'send');
  };

  if (sent) {
    return (
      <SendFrame programName={setting.program.name} step={null} going={togetherOf(goings)} lead={lead}>
        <SentWords
          ref={title}
          setting={setting}
          sent={sent}
          lessonId={opened.lessonId}
          now={now}
          goings={goings}
          hasPain={(answers.painLevel ?? 0) > 0}
        />
      </SendFrame>
    );
  }

  const stepProps = {
    setting,
    draft: answers,
    missing: new Set<string>(isPointedOut || refusal ? missing : []),
    onChange: draft.change,
  };
  const isWithoutClip = step === 'clip' && clips.cards.length === 0;
  const footer = isWithoutClip ? (
    <PickButtons isFirst left={MAX_CLIPS} onPick={clips.pick} />
  ) : (
    <StepFooter step={step} isSending={isSending} isPointedOut={isPointedOut} onBack={go} onNext={next} />
  );
  return (
    <SendFrame
      programName={setting.program.name}
      step={step}
      going={step === 'clip' ? null : togetherOf(goings)}
      lead={lead}
      count={clips.cards.length}
      onPauseAll={clips.pauseAll}
      onResumeAll={clips.resumeAll}
      footer={footer}
    >
      <h1 ref={title} tabIndex={-1} className={styles.title}>
        {TITLES[step]}
      </h1>
      <KeepingLine keeping={draft.keeping} />
      {step === 'clip' && (
        <StepClip
          {...stepProps}
          cards={clips.cards}
          refused={clips.refused}
          isLooking={clips.isLooking}
          onPick={clips.pick}
          onForget={clips.forgetRefused}
        />
      )}
      {step === 'this-swing' && <StepSwing {...stepProps} here={clips.here} onClip={clips.describe} />}
      {step === 'question' && (
        <StepQuestion {...stepProps} followsId={followsId} now={now} onFollow={draft.follow} />
      )}
      {step === 'send' && (
        <StepCheck
          setting={setting}
          draft={answers}
          followed={setting.canFollow.find((lesson) => lesson.id === followsId) ?? null}
          goings={goings}
          missing={missing}
          now={now}
          refusal={refusal}
          packId={packId}
          onPack={setPackId}
        />
      )}
      <ClipDialogs clips={clips} />
    </SendFrame>
  );
};
