'use client';

import Link from 'next/link';
import { useRouter } from 'next/navigation';
import { useCallback, useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { TextArea } from '@/app/_ui/field';
import { Moment, momentWords } from '@/app/_ui/moment';
import { Notice } from '@/app/_ui/notice';
import { MomentLink } from '@/app/lessons/_breakdown/moment-link';
import { type Moment as MomentHere, useMomentHere } from '@/app/lessons/_breakdown/moments';
import { editReplyAction, replyAction } from '@/app/lessons/actions';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { FrameStill } from '@/app/lessons/_swing/frame-still';
import { FrameViewer } from '@/app/lessons/_swing/frame-viewer';
import type { ReplyFacts } from '@/lib/data/replies.read';
import { clockOfMs } from '@/lib/domain/breakdowns/moment-link';
import { CHECKPOINT_NAME } from '@/lib/domain/checkpoints/checkpoint';
import { VIEW_WORD } from '@/lib/domain/lessons/words';
import type { Pin } from '@/lib/domain/review/sheet';
import type { LessonId } from '@/lib/domain/shared/ids';
import css from './lesson.module.css';

type Props = {
  lessonId: LessonId;
  viewerId: string;
  replies: readonly ReplyFacts[];
  /** False on a page of earlier ones, where the way leads back to the newest. */
  isNewest: boolean;
  clips: readonly ClipOnPage[];
  pins: readonly Pin[];
  now: Date;
  timeZone: string;
};

/** What was said on a lesson, each reply optionally hanging on a frame, and the field for the next one. */
export const ReplyList = ({ lessonId, viewerId, replies, isNewest, clips, pins, now, timeZone }: Props) => (
  <>
    {replies.length === 0 ? (
      <p className="soft">
        {isNewest ? 'Nobody has written yet. Questions are welcome.' : 'There are none before that.'}
      </p>
    ) : null}
    <ol>
      {replies.map((reply) => (
        <ReplyView
          key={reply.id}
          reply={reply}
          lessonId={lessonId}
          isOwn={reply.author.id === viewerId}
          clips={clips}
          now={now}
          timeZone={timeZone}
        />
      ))}
    </ol>
    {isNewest ? (
      <NewReply lessonId={lessonId} clips={clips} pins={pins} />
    ) : (
      <p className="acts">
        <Link className="btn" href={`/lessons/${lessonId}#replies`}>
          The newest replies, and a new one
        </Link>
      </p>
    )}
  </>
);

type ViewProps = {
  reply: ReplyFacts;
  lessonId: LessonId;
  isOwn: boolean;
  clips: readonly ClipOnPage[];
  now: Date;
  timeZone: string;
};

const ReplyView = ({ reply, lessonId, isOwn, clips, now, timeZone }: ViewProps) => {
  const [draft, setDraft] = useState<string | null>(null);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();
  const clip = clips.find((one) => one.id === reply.frame?.clipId && one.state === 'ready');
  const keep = () =>
    start(async () => {
      const answer = await answerOf(editReplyAction({ id: reply.id, lessonId, body: draft ?? '' }));
      if (!answer.ok) return setRefusal(answer.message);
      setDraft(null);
      setRefusal(null);
      router.refresh();
    });
  return (
    <li className={css.reply} id={`reply-${reply.id}`}>
      {clip && reply.frame ? (
        <FrameStill
          clip={clip}
          frame={reply.frame.frame}
          alt={`Frame ${reply.frame.frame}`}
          fit="hitter"
          className={css.replypic}
        />
      ) : (
        <span />
      )}
      <div>
        <p className="small">
          <b>{reply.author.name}</b>{' '}
          <span className="soft">
            {reply.author.isStaff ? 'coach, ' : ''}
            <Moment at={reply.at} now={now} timeZone={timeZone} />
            {reply.frame ? `, at frame ${reply.frame.frame}` : ''}
            {reply.moment ? (
              <>
                , <MomentLink lessonId={lessonId} moment={reply.moment} />
              </>
            ) : null}
          </span>
        </p>
        {draft === null ? (
          <p className={css.body}>{reply.body}</p>
        ) : (
          <>
            <TextArea
              label="Change your words"
              value={draft}
              onChange={(event) => setDraft(event.target.value)}
            />
            {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
            <p className="acts">
              <button type="button" className="btn small" onClick={keep} disabled={isBusy}>
                Keep the change
              </button>
              <button type="button" className="btn quiet small" onClick={() => setDraft(null)}>
                Leave it
              </button>
            </p>
          </>
        )}
        {reply.editedAt ? (
          <details>
            <summary className="small soft">Changed {momentWords(reply.editedAt, now, timeZone)}</summary>
            {reply.earlier.map((before) => (
              <p key={before.at.toISOString()} className="small soft">
                Before: {before.body}
              </p>
            ))}
          </details>
        ) : null}
        {isOwn && draft === null ? (
          <button type="button" className="linklike small" onClick={() => setDraft(reply.body)}>
            Change
          </button>
        ) : null}
      </div>
    </li>
  );
};

const NewReply = ({
  lessonId,
  clips,
  pins,
}: {
  lessonId: LessonId;
  clips: readonly ClipOnPage[];
  pins: readonly Pin[];
}) => {
  const ready = clips.filter((clip) => clip.state === 'ready');
  // The same id until it is kept: a reply that is sent twice over a bad line stands there once.
  const [id, setId] = useState(() => crypto.randomUUID());
  const [body, setBody] = useState('');
  const [at, setAt] = useState<{ clipId: string; frame: number } | null>(null);
  const [moment, setMoment] = useState<MomentHere | null>(null);
  const here = useMomentHere();
  const [start, setStart] = useState(0);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, begin] = useTransition();
  const router = useRouter();
  const clip = ready.find((one) => one.id === at?.clipId);
  const hang = (clipId: string, frame: number) => {
    setStart(frame);
    setAt({ clipId, frame });
  };

  // Always the same function, and the same value for the same frame: the viewer tells its frame after every drawing,
  // and a new value each time would draw for ever.
  const follow = useCallback(
    (frame: number) => setAt((before) => (before && before.frame !== frame ? { ...before, frame } : before)),
    [setAt],
  );

  const send = () =>
    begin(async () => {
      const answer = await answerOf(
        replyAction({
          id,
          lessonId,
          body,
          at,
          moment: moment && { breakdownId: moment.breakdownId, ms: moment.ms },
        }),
        'The connection is lost. Your words are kept here; send them again in a moment.',
      );
      if (!answer.ok) return setRefusal(answer.message);
      setBody('');
      setAt(null);
      setMoment(null);
      setRefusal(null);
      setId(crypto.randomUUID());
      router.refresh();
    });

  return (
    <form
      className={css.say}
      onSubmit={(event) => {
        event.preventDefault();
        send();
      }}
    >
      <TextArea
        label="Write a reply"
        value={body}
        onChange={(event) => setBody(event.target.value)}
        maxLength={2000}
      />
      {ready.length > 0 ? (
        <fieldset className="acts">
          <legend className="small soft">Hang it on a frame, if you like</legend>
          {pins
            .filter((pin) => ready.some((one) => one.id === pin.clipId))
            .map((pin) => (
              <button
                key={`${pin.clipId}-${pin.checkpoint}`}
                type="button"
                className="btn small"
                aria-pressed={at?.clipId === pin.clipId && at.frame === pin.frame}
                onClick={() => hang(pin.clipId, pin.frame)}
              >
                {CHECKPOINT_NAME[pin.checkpoint]}
              </button>
            ))}
          {ready.map((one, index) => (
            <button key={one.id} type="button" className="btn small" onClick={() => hang(one.id, 0)}>
              Pick a frame
              {ready.length > 1
                ? `, ${one.view ? VIEW_WORD[one.view].toLowerCase() : `clip ${index + 1}`}`
                : ''}
            </button>
          ))}
        </fieldset>
      ) : null}
      {here && !moment ? (
        <p>
          <button type="button" className="btn small" onClick={() => setMoment(here)}>
            Hang it on {clockOfMs(here.ms)} of {here.title.toLowerCase()}
          </button>
        </p>
      ) : null}
      {moment ? (
        <p className="acts small">
          Hangs on {clockOfMs(moment.ms)} of {moment.title.toLowerCase()}
          <button type="button" className="linklike" onClick={() => setMoment(null)}>
            Take it off the breakdown
          </button>
        </p>
      ) : null}
      {clip && at ? (
        <div>
          <div className="bleed">
            <FrameViewer clip={clip} frame={start} onFrame={follow} />
          </div>
          <p className="acts small">
            Hangs on frame {at.frame}
            <button type="button" className="linklike" onClick={() => setAt(null)}>
              Take it off
            </button>
          </p>
        </div>
      ) : null}
      {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      <p>
        <button type="submit" className="btn" disabled={isBusy || body.trim() === ''}>
          Send the reply
        </button>
      </p>
    </form>
  );
};
