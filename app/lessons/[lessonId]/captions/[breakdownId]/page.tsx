import type { Metadata } from 'next';
import Link from 'next/link';
import { notFound } from 'next/navigation';
import { breakdownsOnPage } from '@/app/_server/breakdowns-on-page';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { Notice } from '@/app/_ui/notice';
import { Page, PageHead } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { CaptionsEditor } from '@/app/lessons/_captions/captions-editor';
import { readBreakdown } from '@/lib/data/breakdowns.read';
import { lengthOfMs } from '@/lib/domain/breakdowns/moment-link';
import { anId, type BreakdownId } from '@/lib/domain/shared/ids';

export const metadata: Metadata = { title: 'Captions' };

type Props = { params: Promise<{ lessonId: string; breakdownId: string }> };

/** Captions of one breakdown, written by the coach against the voice. */
export default async function CaptionsPage({ params }: Props) {
  const { lessonId, breakdownId } = await params;
  const viewer = await requireViewer(`/lessons/${lessonId}/captions/${breakdownId}`);
  const id = anId<BreakdownId>().safeParse(breakdownId);
  const facts = id.success ? await readBreakdown(viewer, id.data) : null;
  if (!facts || facts.lessonId !== lessonId || !facts.captions.mayEdit) notFound();
  const frame = await pageFrame(viewer);
  const [breakdown] = breakdownsOnPage(viewer, [facts], frame.now);
  const voice = breakdown?.voice ?? null;
  return (
    <>
      <FrameBar frame={frame} />
      <Page kind="broad">
        <PageHead
          title="Captions"
          over={
            <>
              {facts.title || 'The breakdown'}
              {facts.durationMs === null ? '' : `, ${lengthOfMs(facts.durationMs)}`}
            </>
          }
        >
          <p>
            <Link href={`/lessons/${lessonId}`}>To the lesson</Link>
          </p>
        </PageHead>
        {breakdown && voice ? (
          <CaptionsEditor breakdown={{ ...breakdown, voice }} />
        ) : (
          <Notice kind="refused">
            There is no voice to write captions for: the breakdown is not put together yet, it is silent, or
            it was removed.
          </Notice>
        )}
      </Page>
    </>
  );
}
