import type { Metadata } from 'next';
import Link from 'next/link';
import { notFound } from 'next/navigation';
import { OneButton } from '@/app/account/_forms/one-button';
import { pageFrame } from '@/app/_server/page-frame';
import { ports } from '@/app/_server/ports';
import { requireViewer } from '@/app/_server/viewer';
import { DeadlineList } from '@/app/_ui/deadline-list';
import { dayWords, Moment } from '@/app/_ui/moment';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { Pennant } from '@/app/_ui/pennant';
import { FrameBar } from '@/app/_ui/frame-bar';
import { isHeld, listHolds } from '@/lib/data/holds.read';
import { readDeadlines } from '@/lib/data/retention.read';
import { listPersonalExports, readErasure, readSubject, type ErasureLine } from '@/lib/data/subjects.read';
import { isLead } from '@/lib/domain/people/viewer';
import { erasureState } from '@/lib/domain/privacy/erasure';
import { erasureWords } from '@/lib/domain/privacy/erasure-words';
import { HELD_WORDS, type HoldFacts } from '@/lib/domain/privacy/hold';
import { anId, type PersonId } from '@/lib/domain/shared/ids';
import { endOfHold, takeBackErase } from './actions';
import { CopyPart } from './_everything/copy-part';
import { EraseForm } from './_everything/erase-form';
import { HoldForm } from './_everything/hold-form';

export const metadata: Metadata = { title: 'Everything that is kept' };

/** What is kept about a person and how long, a copy of all of it, and its erasure: for whoever may speak for them. */
export default async function EverythingPage({ params }: { params: Promise<{ personId: string }> }) {
  const { personId } = await params;
  const viewer = await requireViewer(`/everything/${personId}`);
  const id = anId<PersonId>().safeParse(personId);
  const subject = id.success ? await readSubject(viewer, id.data) : null;
  if (!subject) notFound();
  const [frame, deadlines, copies, erasure, held, holds] = await Promise.all([
    pageFrame(viewer),
    readDeadlines(viewer),
    listPersonalExports(viewer, subject.personId),
    readErasure(viewer, subject.personId),
    isHeld(viewer, subject.personId),
    listHolds(viewer, subject.personId),
  ]);
  const { now, timeZone } = frame;
  const isPlayer = subject.roles.includes('player');
  const state = erasure && erasureState(erasure, now);
  const isAsked = state === 'waiting' || state === 'due';
  return (
    <>
      <FrameBar
        frame={frame}
        current={subject.isSelf ? 'account' : isLead(viewer) ? 'people' : 'lessons'}
        isReading
      />
      <Page>
        <PageHead
          title={`Everything about ${subject.isSelf ? 'you' : subject.name}`}
          over={
            isPlayer && !subject.isSelf ? (
              <Link href={`/players/${subject.personId}/care`}>{subject.name}</Link>
            ) : (
              <Link href="/account">Account</Link>
            )
          }
        >
          {held && <Pennant>{HELD_WORDS}</Pennant>}
        </PageHead>
        <Row label="Take a copy">
          <div className="stack">
            <p className="read">
              One file with all that {frame.program.name} keeps about {subject.isSelf ? 'you' : subject.name}:
              a page in plain words that opens in any browser, and the clips, voices, captions and bills as
              they are. It can be fetched for 24 hours, by you alone.
            </p>
            <CopyPart
              personId={subject.personId}
              freshId={ports.ids.uuid()}
              copies={copies}
              now={now}
              timeZone={timeZone}
            />
          </div>
        </Row>
        <Row label="Erase">
          {erasure && isAsked ? (
            <Asked erasure={erasure} now={now} timeZone={timeZone} />
          ) : (
            <div className="stack">
              {state === 'cancelled' && erasure?.cancelledAt && (
                <p className="small soft">
                  An erasure was asked for and taken back{' '}
                  <Moment at={erasure.cancelledAt} now={now} timeZone={timeZone} />.
                </p>
              )}
              <p className="read">
                Whoever asks for it has 30 days to take it back. Everybody concerned is told.
              </p>
              <EraseForm
                personId={subject.personId}
                freshId={ports.ids.uuid()}
                words={erasureWords(subject, frame.program.name)}
              />
            </div>
          )}
        </Row>
        {isLead(viewer) && isPlayer && (
          <Row label="Legal hold">
            <div className="stack">
              <p className="read">
                While a hold stands, nothing of {subject.name} is deleted or erased, whatever the deadlines
                say. The player and their guardians see that one stands, and not why.
              </p>
              <Holds holds={holds} now={now} timeZone={timeZone} />
              {!held && <HoldForm personId={subject.personId} freshId={ports.ids.uuid()} />}
            </div>
          </Row>
        )}
        <Row label="How long">
          <div className="stack">
            <p className="read">
              What is kept goes by itself after these times. {frame.program.name} must follow its own law and
              its governing body; ask there if you want to know more.
            </p>
            <DeadlineList deadlines={deadlines} />
          </div>
        </Row>
      </Page>
    </>
  );
}

type Timed = { now: Date; timeZone: string };

const Asked = ({ erasure, now, timeZone }: Timed & { erasure: ErasureLine }) => (
  <div className="stack tight read">
    <Pennant>
      {erasure.dueAt > now
        ? `Everything will be erased ${dayWords(erasure.dueAt, now, timeZone)}.`
        : 'Everything will be erased in the coming night.'}
    </Pennant>
    <p>
      {erasure.byName} asked for it <Moment at={erasure.at} now={now} timeZone={timeZone} />.
      {erasure.isHeldBack && ' It waits for the end of a legal hold.'}
    </p>
    <OneButton action={takeBackErase} fields={{ id: erasure.id }} label="Take it back" />
  </div>
);

const Holds = ({ holds, now, timeZone }: Timed & { holds: readonly HoldFacts[] }) =>
  holds.length === 0 ? null : (
    <ul className="ruled">
      {holds.map((hold) => (
        <li key={hold.id} className="stack tight">
          <p>
            {hold.endedAt ? 'Ended' : 'Stands'}: {hold.reason}
          </p>
          <p className="small soft">
            Placed by {hold.byName} <Moment at={hold.at} now={now} timeZone={timeZone} />
            {hold.endedAt && (
              <>
                , ended by {hold.endedByName} <Moment at={hold.endedAt} now={now} timeZone={timeZone} />
              </>
            )}
            .
          </p>
          {!hold.endedAt && (
            <OneButton action={endOfHold} fields={{ id: hold.id }} label="End the hold" isSmall />
          )}
        </li>
      ))}
    </ul>
  );
