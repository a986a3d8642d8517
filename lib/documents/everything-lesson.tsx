import { STATE_WORD } from '@/lib/domain/lessons/words';
import type { EverythingFile, EverythingLesson } from '@/lib/domain/privacy/everything';
import { plainWords, sheetWords, whenWords } from './everything-words';

type Props = { lesson: EverythingLesson; timeZone: string };

const Files = ({ files }: { files: readonly EverythingFile[] }) => (
  <ul>
    {files.map(({ file }) => (
      <li key={file}>
        <a href={file}>{file}</a>
      </li>
    ))}
  </ul>
);

const stateWord = (state: string) => STATE_WORD[state as keyof typeof STATE_WORD] ?? state;

/** One lesson with everything that hangs on it. */
export function EverythingLessonPart({ lesson, timeZone }: Props) {
  const when = (at: string) => whenWords(at, timeZone);
  const said = [
    lesson.bats && `Bats ${lesson.bats}`,
    lesson.pitchMode && `off ${lesson.pitchMode}`,
    lesson.result && plainWords(lesson.result),
    lesson.painLevel !== null &&
      `pain ${lesson.painLevel} of 10${lesson.painWhere ? ` (${lesson.painWhere})` : ''}`,
  ].filter(Boolean);
  return (
    <article>
      <h3>
        {lesson.number === null ? 'A swing that was not sent' : `Lesson ${lesson.number}`}:{' '}
        {stateWord(lesson.state).toLowerCase()}
      </h3>
      <p>
        {lesson.sentAt && `Sent ${when(lesson.sentAt)}. `}
        {lesson.returnedAt &&
          `Returned ${when(lesson.returnedAt)}${lesson.coach ? ` by ${lesson.coach}` : ''}. `}
      </p>
      {lesson.question && <blockquote>{lesson.question}</blockquote>}
      {said.length > 0 && <p>{said.join(', ')}.</p>}
      {lesson.clips.map((clip, at) => (
        <section key={clip.id}>
          <h4>
            Clip {at + 1}
            {clip.view ? `, ${plainWords(clip.view)}` : ''}
          </h4>
          {clip.files.length === 0 ? (
            <p>Its files are not kept any more.</p>
          ) : (
            <>
              {clip.files.some(({ file }) => file.endsWith('/review.mp4')) && (
                <video
                  controls
                  preload="none"
                  src={clip.files.find(({ file }) => file.endsWith('/review.mp4'))?.file}
                />
              )}
              <Files files={clip.files} />
            </>
          )}
        </section>
      ))}
      {lesson.returns.map((one) => (
        <section key={one.number}>
          <h4>Returned {when(one.at)}</h4>
          <p>
            <b>Fix first:</b> {one.fixFirst}
          </p>
          <ul>
            {sheetWords(lesson, one.sheet).map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </section>
      ))}
      {lesson.breakdowns.map((one) => (
        <section key={one.id}>
          <h4>
            Breakdown by {one.by}, {when(one.givenAt)}
            {one.title ? `: ${one.title}` : ''}
          </h4>
          {one.files.length === 0 ? <p>It was removed.</p> : <Files files={one.files} />}
        </section>
      ))}
      {lesson.replies.length > 0 && <h4>Replies</h4>}
      {lesson.replies.map((reply) => (
        <div key={reply.at + reply.by}>
          <p>
            <b>{reply.by}</b>, {when(reply.at)}: {reply.body}
          </p>
          {reply.earlier.map((edit) => (
            <p key={edit.at} className="soft">
              Before it was changed, {when(edit.at)}: {edit.body}
            </p>
          ))}
        </div>
      ))}
      {lesson.practice.map((one) => (
        <section key={one.drill + one.givenAt}>
          <h4>Drill: {one.drill}</h4>
          {one.cue && <p>Cue: {one.cue}</p>}
          <ul>
            {one.checkIns.map((checkIn, at) => (
              <li key={at}>
                {checkIn.day}: {checkIn.setsDone} sets, {checkIn.repsDone} swings, pain {checkIn.painLevel} of
                10
                {checkIn.painWhere ? ` (${checkIn.painWhere})` : ''}
                {checkIn.note ? `. ${checkIn.note}` : ''}
              </li>
            ))}
          </ul>
        </section>
      ))}
      {lesson.opened.length > 0 && (
        <p className="soft">
          Opened by {lesson.opened.map((one) => `${one.by} (last ${when(one.lastAt)})`).join(', ')}.
        </p>
      )}
    </article>
  );
}
