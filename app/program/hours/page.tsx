import type { Metadata } from 'next';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { promiseWords, weekWords, offWords } from '@/lib/domain/desk/hours-words';
import { isLead, isStaff } from '@/lib/domain/people/viewer';
import { HoursForm } from './_hours/hours-form';

export const metadata: Metadata = { title: 'Working hours' };

/** When the program works: what its promises are counted in. Leads change it, coaches read it. */
export default async function HoursPage() {
  const viewer = await requireViewer('/program/hours');
  if (!isStaff(viewer)) redirect('/lessons');
  const frame = await pageFrame(viewer);
  const { hours, promiseHours } = frame.program;
  return (
    <>
      <FrameBar frame={frame} current="program" isReading />
      <Page>
        <PageHead title="Working hours" over={<Link href="/program">{frame.program.name}</Link>}>
          <p>
            The promise is counted in these hours, on the clocks of {frame.timeZone.replaceAll('_', ' ')}.
            Lessons that were sent before keep what they were promised.
          </p>
        </PageHead>
        <Row label="Hours">
          {isLead(viewer) ? (
            <HoursForm hours={hours} promiseHours={promiseHours} timeZone={frame.timeZone} now={frame.now} />
          ) : (
            <div className="stack tight">
              <p>An answer within {promiseWords(promiseHours, hours)}.</p>
              <p>
                {hours ? `Work is done ${weekWords(hours.week)}.` : 'Lessons are answered round the clock.'}
              </p>
              {hours && hours.daysOff.length > 0 ? (
                <ul className="ruled">
                  {hours.daysOff.map((off) => (
                    <li key={`${off.from} ${off.name}`}>{offWords(off)}</li>
                  ))}
                </ul>
              ) : null}
            </div>
          )}
        </Row>
        <Row label="Your own">
          <p>
            <Link href="/desk/hours">When you work yourself, and when you are away</Link>
          </p>
        </Row>
      </Page>
    </>
  );
}
