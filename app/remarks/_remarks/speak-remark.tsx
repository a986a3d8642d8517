'use client';

import { useEffect, useRef, useState } from 'react';
import { Notice } from '@/app/_ui/notice';
import { clockOfMs, lengthOfMs } from '@/lib/domain/breakdowns/moment-link';
import { CagepostError } from '@/lib/domain/shared/errors';
import { openMic, type Mic } from '@/lib/review/record/mic';
import { sentenceOf } from '@/lib/review/record/record-faults';
import {
  MAX_REMARK_MS,
  speakRemark,
  type SpeakingRemark,
  type SpokenRemark,
} from '@/lib/review/remarks/spoken-remark';

type Props = { spoken: SpokenRemark | null; onSpoken: (remark: SpokenRemark) => void };

const FOLLOW_MS = 200;

/** Records one short remark; the microphone is asked for on the press and closed with it. */
export const SpeakRemark = ({ spoken, onSpoken }: Props) => {
  const [ms, setMs] = useState<number | null>(null);
  const [refusal, setRefusal] = useState<string | null>(null);
  const going = useRef<{ mic: Mic; speaking: SpeakingRemark } | null>(null);
  const hear = useRef<HTMLAudioElement>(null);

  const stop = async () => {
    const { current } = going;
    going.current = null;
    setMs(null);
    if (!current) return;
    try {
      onSpoken(await current.speaking.stop());
    } catch (error) {
      if (!(error instanceof CagepostError)) throw error;
      setRefusal(error.forPeople);
    } finally {
      current.mic.close();
    }
  };
  const begin = async () => {
    setRefusal(null);
    const answer = await openMic();
    if (!answer.ok) return setRefusal(sentenceOf(answer.fault));
    const { mic } = answer;
    try {
      const speaking = speakRemark(mic, (sentence) => {
        setRefusal(sentence);
        void stop();
      });
      going.current = { mic, speaking };
      setMs(0);
    } catch {
      mic.close();
      setRefusal(sentenceOf('unsupported'));
    }
  };
  const isGoing = ms !== null;
  const newestStop = useRef(stop);
  useEffect(() => {
    newestStop.current = stop;
  });
  useEffect(() => {
    if (!isGoing) return;
    const timer = setInterval(() => {
      const now = going.current?.speaking.nowMs() ?? 0;
      setMs(now);
      if (now >= MAX_REMARK_MS) void newestStop.current();
    }, FOLLOW_MS);
    return () => clearInterval(timer);
  }, [isGoing]);
  useEffect(() => () => going.current?.mic.close(), []);
  useEffect(() => {
    const element = hear.current;
    if (!spoken || !element) return;
    const address = URL.createObjectURL(new Blob([spoken.voice], { type: spoken.voiceType }));
    element.src = address;
    return () => {
      element.removeAttribute('src');
      URL.revokeObjectURL(address);
    };
  }, [spoken]);

  return (
    <div className="stack tight">
      <p className="small soft">
        Your browser asks whether it may use the microphone. At most {lengthOfMs(MAX_REMARK_MS)}; nobody hears
        it before you drop it into a breakdown.
      </p>
      <p className="acts">
        <button type="button" className="btn" onClick={() => void (isGoing ? stop() : begin())}>
          {isGoing ? 'Stop' : spoken ? 'Speak it again' : 'Speak it'}
        </button>
        <span className="num" role="status">
          {isGoing ? `Recording, ${clockOfMs(ms)}` : spoken ? lengthOfMs(spoken.durationMs) : ''}
        </span>
      </p>
      {spoken && !isGoing ? <audio ref={hear} controls aria-label="What you said" /> : null}
      {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
    </div>
  );
};
