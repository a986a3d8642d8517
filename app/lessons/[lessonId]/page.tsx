import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { breakdownsOnPage } from '@/app/_server/breakdowns-on-page';
import { besideClips } from '@/app/_server/beside-clips';
import { clipsOnPage } from '@/app/_server/clips-on-page';
import { frameTables } from '@/app/_server/frame-tables';
import { pageFrame } from '@/app/_server/page-frame';
import { ports } from '@/app/_server/ports';
import { requireViewer } from '@/app/_server/viewer';
import { BillingWord, Money } from '@/app/_ui/money';
import { Moment } from '@/app/_ui/moment';
import { MoreLink, oneOf, type PageQuery } from '@/app/_ui/more-link';
import { Page, Row } from '@/app/_ui/page-grid';
import { StatePath } from '@/app/_ui/state-path';
import { FrameBar } from '@/app/_ui/frame-bar';
import { UploadsGoing } from '@/app/_ui/uploads-going';
import { BreakdownSection } from '@/app/lessons/_breakdown/breakdown-section';
import { MomentsOf } from '@/app/lessons/_breakdown/moments';
import { MeasureRecord } from '@/app/lessons/_measure/measure-record';
import { measureClips } from '@/app/lessons/_measure/measured';
import { PlayersOf } from '@/app/lessons/_swing/players';
import { listBreakdowns } from '@/lib/data/breakdowns.read';
import { listLedger } from '@/lib/data/ledger.read';
import { readLesson } from '@/lib/data/lessons.read';
import { listGiven } from '@/lib/data/practice.read';
import { listSwings } from '@/lib/data/progress.read';
import { listTargets } from '@/lib/data/targets.read';
import { listReplies } from '@/lib/data/replies.read';
import { targetsNow } from '@/lib/domain/measures/target';
import { dayIn, type Day } from '@/lib/domain/people/age';
import { isMinor } from '@/lib/domain/people/safeguarding';
import { isStaff, sendsFor } from '@/lib/domain/people/viewer';
import { anId, type LessonId } from '@/lib/domain/shared/ids';
import { noteShown } from '@/lib/workflows/note-shown';
import { HistoryList } from './_lesson/history-list';
import { LedgerPanel } from './_lesson/ledger-panel';
import { LessonActs } from './_lesson/lesson-acts';
import { LessonHead } from './_lesson/lesson-head';
import { MarkSeen } from './_lesson/mark-seen';
import { PracticeRow } from './_lesson/practice-row';
import { ReplyList } from './_lesson/reply-list';
import { SwingSection } from './_lesson/swing-section';
import { WaitingPart } from './_lesson/waiting-part';

export const metadata: Metadata = { title: 'Lesson' };

type Props = { params: Promise<{ lessonId: string }>; searchParams: Promise<PageQuery> };

/** One lesson, read from top to bottom: fix first, the swing with its verdicts, replies, and what it cost. */
export default async function LessonPage({ params, searchParams }: Props) {
  const [{ lessonId }, query] = await Promise.all([params, searchParams]);
  const viewer = await requireViewer(`/lessons/${lessonId}`);
  const id = anId<LessonId>().safeParse(lessonId);
  const lesson = id.success ? await readLesson(viewer, id.data) : null;
  if (!lesson) notFound();
  await noteShown(ports, viewer, { playerId: lesson.player.id, what: 'lesson', id: lesson.id });
  const frame = await pageFrame(viewer);
  const [breakdownFacts, given, replies, ledger, targets, tables] = await Promise.all([
    listBreakdowns(viewer, lesson.id, frame.now),
    listGiven(viewer, { lessonId: lesson.id }),
    listReplies(viewer, lesson.id, { after: oneOf(query['replies']) }),
    listLedger(viewer, lesson.id),
    listTargets(viewer, lesson.player.id),
    frameTables(lesson.returned ? lesson.clips.filter((clip) => clip.state === 'ready') : []),
  ]);
  const { now, timeZone } = frame;
  const clips = clipsOnPage(viewer, lesson.clips, now);
  const breakdowns = breakdownsOnPage(viewer, breakdownFacts, now);
  // A breakdown may show a swing of an earlier lesson beside this one.
  const swings =
    breakdowns.length > 0 ? await listSwings(viewer, lesson.player.id, { before: lesson.number }) : [];
  const besides = besideClips(viewer, swings, frame).map(({ clip }) => clip);
  const measured = lesson.returned
    ? measureClips(lesson.returned.sheet, lesson.clips, Object.fromEntries(tables), lesson.bats)
    : [];
  const today = dayIn(timeZone, now);
  const isYoung = isMinor({ birthDate: lesson.player.birthDate as Day | null }, today);
  const asking = given.find((one) => one.swingBy !== null && !one.hasSwing && one.endedAt === null);
  const isSender = sendsFor(viewer).includes(lesson.player.id);
  const staff = isStaff(viewer);
  const isWaiting = lesson.state === 'submitted' || lesson.state === 'in_review';
  return (
    <>
      <FrameBar frame={frame} current={staff ? undefined : 'lessons'} isReading>
        <StatePath state={lesson.state} />
      </FrameBar>
      <PlayersOf clips={clips}>
        <MomentsOf>
          <Page>
            {isSender ? <UploadsGoing personId={viewer.personId} /> : null}
            <LessonHead lesson={lesson} clips={clips} isStaff={staff} now={now} timeZone={timeZone}>
              <LessonActs
                lesson={lesson}
                breakdowns={breakdowns}
                isSender={isSender}
                isStaff={staff}
                isMine={lesson.coach?.id === viewer.personId}
                answersId={asking?.id ?? null}
              />
            </LessonHead>
            {isWaiting || (lesson.state === 'withdrawn' && !lesson.returned) ? (
              <WaitingPart lesson={lesson} clips={clips} />
            ) : null}
            {breakdowns.length > 0 ? (
              <Row label={breakdowns.length === 1 ? 'The breakdown' : 'Breakdowns'} id="breakdown">
                <BreakdownSection
                  breakdowns={breakdowns}
                  clips={[...clips, ...besides]}
                  checklist={lesson.checklist}
                  isStaff={staff}
                  canGive={staff && (lesson.state === 'returned' || lesson.state === 'closed')}
                  now={now}
                  timeZone={timeZone}
                />
              </Row>
            ) : null}
            <Row label={staff ? `${lesson.player.name} asks` : 'You asked'}>
              <p className="asked">“{lesson.question}”</p>
            </Row>
            {lesson.returned ? (
              <Row label={staff ? 'The swing' : 'Your swing'} id="swing">
                <SwingSection
                  sheet={lesson.returned.sheet}
                  checklist={lesson.checklist}
                  clips={clips}
                  measured={measured}
                  targets={targetsNow(targets)}
                  bats={lesson.bats}
                  canCompare={lesson.number > 1 || clips.length > 1}
                  isPlayers={!staff}
                  now={now}
                  timeZone={timeZone}
                />
                <MeasureRecord lessonId={lesson.id} isMeasured={lesson.returned.sheet.joints.length > 0} />
              </Row>
            ) : null}
            <PracticeRow
              given={given}
              today={today}
              isStaff={staff}
              isSender={isSender}
              maySayCleared={isSender && (!isYoung || viewer.personId !== lesson.player.id)}
            />
            {lesson.state === 'draft' || lesson.state === 'withdrawn' ? null : (
              <Row label="Replies" id="replies">
                <MoreLink page={`/lessons/${lesson.id}`} list="replies" next={replies.next} query={query}>
                  Earlier replies
                </MoreLink>
                <ReplyList
                  lessonId={lesson.id}
                  viewerId={viewer.personId}
                  replies={replies.rows}
                  isNewest={replies.isNewest}
                  clips={clips}
                  pins={lesson.returned?.sheet.pins ?? []}
                  now={now}
                  timeZone={timeZone}
                />
              </Row>
            )}
            <Row label="What it costs">
              <p>
                {lesson.price ? (
                  <>
                    {lesson.price.label}{' '}
                    <Money minor={lesson.price.amountMinor} currency={lesson.price.currency} />:{' '}
                  </>
                ) : null}
                <b>
                  <BillingWord
                    status={lesson.account.status}
                    dueMinor={lesson.account.owedMinor}
                    currency={lesson.price?.currency}
                  />
                </b>
              </p>
              {lesson.account.owedMinor > 0 && lesson.program.howToPay ? (
                <p className="small soft">How to pay: {lesson.program.howToPay}</p>
              ) : null}
              <LedgerPanel
                lessonId={lesson.id}
                currency={lesson.price?.currency ?? lesson.program.currency}
                account={lesson.account}
                lines={ledger}
                canRecord={staff && lesson.state !== 'draft'}
                now={now}
                timeZone={timeZone}
              />
            </Row>
            <Row label="History">
              <HistoryList lesson={lesson} now={now} timeZone={timeZone} />
              {staff && lesson.seen.length > 0 ? (
                <p className="small soft">
                  {lesson.seen.map((seen, index) => (
                    <span key={seen.id}>
                      {index > 0 ? '; ' : ''}Seen by {seen.name}{' '}
                      <Moment at={seen.at} now={now} timeZone={timeZone} />
                    </span>
                  ))}
                </p>
              ) : null}
            </Row>
            <MarkSeen lessonId={lesson.id} />
          </Page>
        </MomentsOf>
      </PlayersOf>
    </>
  );
}
