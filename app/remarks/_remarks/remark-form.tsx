'use client';

import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { ChoiceGroup } from '@/app/_ui/choice-group';
import { Dialog } from '@/app/_ui/dialog';
import { TextArea, TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import type { RemarkOnPage } from '@/app/lessons/_swing/breakdown-on-page';
import { keepRemarkAction, renameRemarkAction } from '@/app/lessons/remark-actions';
import type { RemarkId } from '@/lib/domain/shared/ids';
import type { SpokenRemark } from '@/lib/review/remarks/spoken-remark';
import { openUnsentRemarks, sendUnsent } from '@/lib/review/remarks/unsent-remarks';
import { SpeakRemark } from './speak-remark';
import { putOnShelf } from './unsent-list';

type Props = {
  personId: string;
  /** The one to change, or null for a new one. */
  remark: RemarkOnPage | null;
  onClose: () => void;
  onKept: () => void;
};

const NOT_HERE = 'This browser has no room for it: leave this page open until it was sent.';

const newId = () => crypto.randomUUID() as RemarkId;

/** The take before was spoken again: nothing of it is to be sent any more. */
const forgetUnsent = (id: string) => {
  const store = openUnsentRemarks();
  void store.remove(id).finally(() => store.close());
};

/** A new remark, or another version of one. */
export const RemarkForm = ({ personId, remark, onClose, onKept }: Props) => {
  const [kind, setKind] = useState<'written' | 'spoken'>(remark?.isSpoken ? 'spoken' : 'written');
  const [title, setTitle] = useState(remark?.title ?? '');
  const [text, setText] = useState(remark?.text ?? '');
  const [spoken, setSpoken] = useState<SpokenRemark | null>(null);
  // The same ids until it is kept: what is sent twice over a bad line stands there once. Another take is another version.
  const [ids, setIds] = useState(() => ({ id: newId(), seriesId: remark?.seriesId ?? newId() }));
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const isSpoken = kind === 'spoken';
  const isOnlyRenamed = remark !== null && remark.isSpoken === isSpoken && !spoken && text === remark.text;

  /** Written down in this browser before anything is sent: what cannot be sent now is sent from the shelf later. */
  const keepSpoken = async ({ voice, voiceType, durationMs }: SpokenRemark): Promise<string | null> => {
    const store = openUnsentRemarks();
    try {
      const unsent = {
        ...{ ...ids, personId, title: title.trim(), text, voiceType, durationMs },
        ...{ voice: voice.slice().buffer, keptAt: new Date().toISOString() },
      };
      const isKept = await store.keep(unsent);
      const refused = await sendUnsent(store, unsent, putOnShelf);
      return refused && !isKept ? `${refused} ${NOT_HERE}` : refused;
    } finally {
      store.close();
    }
  };
  const keep = () =>
    start(async () => {
      if (isSpoken && spoken) {
        const refused = await keepSpoken(spoken);
        if (refused) return setRefusal(refused);
        return onKept();
      }
      const answer = await answerOf<unknown>(
        isOnlyRenamed
          ? renameRemarkAction({ seriesId: remark.seriesId, title })
          : keepRemarkAction({ ...ids, title, text, isSpoken, durationMs: null }),
        'The connection is lost. Your words are here; try again in a moment.',
      );
      if (!answer.ok) return setRefusal(answer.message);
      onKept();
    });
  const needsVoice = isSpoken && !spoken && !isOnlyRenamed;
  return (
    <Dialog
      isOpen
      onClose={onClose}
      title={remark ? 'Change the remark' : 'New remark'}
      footer={
        <button
          type="button"
          className="btn do"
          disabled={isBusy || title.trim() === '' || needsVoice}
          onClick={keep}
        >
          {isBusy ? 'Keeping it' : 'Keep it'}
        </button>
      }
    >
      <div className="stack tight">
        <TextField
          label="Title"
          hint="How you find it again."
          value={title}
          maxLength={80}
          onChange={(event) => setTitle(event.target.value)}
        />
        {remark ? null : (
          <ChoiceGroup
            legend="It is"
            name="kind"
            value={kind}
            onChange={setKind}
            choices={[
              { value: 'written', label: 'written' },
              { value: 'spoken', label: 'spoken' },
            ]}
          />
        )}
        {isSpoken ? (
          <SpeakRemark
            spoken={spoken}
            onSpoken={(next) => {
              forgetUnsent(ids.id);
              setSpoken(next);
              setIds((before) => ({ ...before, id: newId() }));
            }}
          />
        ) : null}
        <TextArea
          label={isSpoken ? 'Its words, for captions (if you like)' : 'Its words'}
          value={text}
          maxLength={1000}
          onChange={(event) => setText(event.target.value)}
        />
        {remark ? <p className="small soft">Where you dropped it in already, it stays as it was.</p> : null}
        {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      </div>
    </Dialog>
  );
};
