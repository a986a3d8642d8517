'use client';

import { useRouter } from 'next/navigation';
import { useEffect } from 'react';
import { Moment } from '@/app/_ui/moment';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import { sizeInWords, type PersonalExportFacts } from '@/lib/domain/privacy/export';
import { askCopy } from '../actions';

type Props = {
  personId: string;
  /** The id of the copy that is asked for next: pressing twice asks once. */
  freshId: string;
  copies: readonly PersonalExportFacts[];
  now: Date;
  timeZone: string;
};

const LOOK_AGAIN_MS = 3000;

/** Asking for a file with everything, and fetching it while it can be fetched. */
export const CopyPart = ({ personId, freshId, copies, now, timeZone }: Props) => {
  const router = useRouter();
  const { isBusy, refused, submit } = useFormAction(askCopy, () => router.refresh());
  const isMaking = copies.some((one) => one.state === 'waiting' || one.state === 'working');
  useEffect(() => {
    if (!isMaking) return;
    const timer = setInterval(() => router.refresh(), LOOK_AGAIN_MS);
    return () => clearInterval(timer);
  }, [isMaking, router]);
  return (
    <div className="stack">
      {copies.map((copy) => (
        <Copy key={copy.id} copy={copy} now={now} timeZone={timeZone} />
      ))}
      {refused && <Notice kind="refused">{refused}</Notice>}
      {!isMaking && (
        <form onSubmit={submit}>
          <input type="hidden" name="id" value={freshId} />
          <input type="hidden" name="personId" value={personId} />
          <div className="acts">
            <button className="btn" disabled={isBusy}>
              {copies.length > 0 ? 'Make a new file' : 'Make the file'}
            </button>
          </div>
        </form>
      )}
    </div>
  );
};

const Copy = ({ copy, now, timeZone }: { copy: PersonalExportFacts; now: Date; timeZone: string }) => {
  if (copy.state === 'expired' || (copy.expiresAt && copy.expiresAt <= now)) return null;
  if (copy.state === 'failed') return <Notice kind="refused">{copy.failReason}</Notice>;
  if (copy.state !== 'ready' || !copy.expiresAt) {
    return (
      <Notice>The file is being made. You can leave this page; you will be told when it is ready.</Notice>
    );
  }
  return (
    <Notice kind="done">
      <p>
        The file is ready ({sizeInWords(copy.sizeBytes)}). It can be fetched until{' '}
        <Moment at={copy.expiresAt} now={now} timeZone={timeZone} />.
      </p>
      <ul>
        {Array.from({ length: copy.parts }, (_, at) => (
          <li key={at}>
            <a href={`/api/copies/${copy.id}?part=${at + 1}`} download>
              {copy.parts === 1 ? 'Fetch the file' : `Fetch part ${at + 1} of ${copy.parts}`}
            </a>
          </li>
        ))}
      </ul>
    </Notice>
  );
};
