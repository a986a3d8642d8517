import type { Metadata } from 'next';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { readCoachTerms } from '@/lib/data/hours.read';
import { promiseWords, weekWords } from '@/lib/domain/desk/hours-words';
import { isStaff } from '@/lib/domain/people/viewer';
import { OwnHoursForm } from './_own/own-hours-form';

export const metadata: Metadata = { title: 'Your hours' };

/** When a coach works, is away, and whether they promise sooner than the program. */
export default async function OwnHoursPage() {
  const viewer = await requireViewer('/desk/hours');
  if (!isStaff(viewer)) redirect('/lessons');
  const [frame, own] = await Promise.all([pageFrame(viewer), readCoachTerms(viewer, viewer.personId)]);
  const { hours, promiseHours } = frame.program;
  return (
    <>
      <FrameBar frame={frame} current="desk" isReading />
      <Page>
        <PageHead title="Your hours" over={<Link href="/desk">Desk</Link>}>
          <p>
            {frame.program.name} answers within {promiseWords(promiseHours, hours)},{' '}
            {hours ? weekWords(hours.week) : 'round the clock'}. What a lesson was promised stays, whoever has
            it.
          </p>
        </PageHead>
        <Row label="Your hours">
          <OwnHoursForm own={own.hours} promiseHours={own.promiseHours} program={{ hours, promiseHours }} />
        </Row>
      </Page>
    </>
  );
}
