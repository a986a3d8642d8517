import type { BreakdownFacts, ExportFacts, RemarkFacts } from '@/lib/domain/breakdowns/breakdown';

/** A breakdown with addresses that its viewer may fetch for some hours; null where there is no such file. */
export type BreakdownOnPage = Omit<BreakdownFacts, 'exports'> & {
  voice: string | null;
  timeline: string | null;
  captionsUrl: string | null;
  exports: (ExportFacts & { url: string | null })[];
  /** Whether the viewer may have captions made by the speech service that is set up here. */
  canMakeCaptions: boolean;
};

/** A remark with the address of its voice: the file of one part, its head and then the voice. */
export type RemarkOnPage = RemarkFacts & { part: string | null };
