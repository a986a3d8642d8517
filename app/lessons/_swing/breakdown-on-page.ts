import type { BreakdownFacts, ExportFacts } from '@/lib/domain/breakdowns/breakdown';

/** A breakdown as screens show and play it: its facts, and addresses that are signed for the viewer. */
export interface BreakdownOnPage extends Omit<BreakdownFacts, 'exports'> {
  /** Null when there is no voice, or nothing to play yet. */
  voice: string | null;
  timeline: string | null;
  captionsUrl: string | null;
  exports: (ExportFacts & { url: string | null })[];
}
