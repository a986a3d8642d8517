import type { Metadata } from 'next';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { EmptyState } from '@/app/_ui/empty-state';
import { Page, PageHead } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { listToGiveOut } from '@/lib/data/desk.read';
import { listLoads } from '@/lib/data/loads.read';
import { paceOf } from '@/lib/domain/desk/load';
import { dayIn, type Day } from '@/lib/domain/people/age';
import { isMinor } from '@/lib/domain/people/safeguarding';
import { isLead } from '@/lib/domain/people/viewer';
import { anId, type LessonId } from '@/lib/domain/shared/ids';
import { clockOf, coachChoice } from '../_desk/coach-words';
import { endOfDay } from '../_desk/due';
import { SplitForm } from './_split/split-form';

export const metadata: Metadata = { title: 'Give out lessons' };

type Search = Promise<Record<string, string | string[] | undefined>>;

/** Where a lead gives several waiting lessons out: a proposal by load and hours, changed at will, and then done. */
export default async function SplitPage({ searchParams }: { searchParams: Search }) {
  const viewer = await requireViewer('/desk/split');
  if (!isLead(viewer)) redirect('/desk');
  const { lesson } = await searchParams;
  const ids = [lesson ?? []].flat().flatMap((id) => {
    const parsed = anId<LessonId>().safeParse(id);
    return parsed.success ? [parsed.data] : [];
  });
  const frame = await pageFrame(viewer);
  const { now, timeZone } = frame;
  const [lessons, loads] = await Promise.all([
    listToGiveOut(viewer, ids.length > 0 ? ids : null),
    listLoads(viewer, { now, endOfDay: endOfDay(now, timeZone) }),
  ]);
  const moment = { now, timeZone, hours: frame.program.hours };
  const today = dayIn(timeZone, now);
  return (
    <>
      <FrameBar frame={frame} current="desk" />
      <Page kind="broad">
        <PageHead title="Give out lessons" over={<Link href="/desk?show=open">Desk</Link>}>
          <p>
            Each lesson is proposed to whoever is done with it first, by what lies there already, the coach’s
            own pace and working hours. Nothing is given out until you say so.
          </p>
        </PageHead>
        {lessons.length === 0 ? (
          <EmptyState title="Nothing to give out">
            <p>
              {ids.length > 0
                ? 'Somebody has begun on these lessons, or they were withdrawn.'
                : 'Every lesson that waits has its coach.'}
            </p>
            <Link className="btn" href="/desk?show=all">
              Back to the desk
            </Link>
          </EmptyState>
        ) : (
          <SplitForm
            now={now}
            timeZone={timeZone}
            lessons={lessons.map((one) => ({
              ...one,
              isMinor: isMinor({ birthDate: one.player.birthDate as Day | null }, today),
              coachId: one.coach?.id ?? null,
            }))}
            coaches={loads.map((load) => ({
              ...coachChoice(load, moment),
              load: load.waiting + load.inReview,
              pace: paceOf(load),
              clock: clockOf(load, moment),
            }))}
          />
        )}
      </Page>
    </>
  );
}
