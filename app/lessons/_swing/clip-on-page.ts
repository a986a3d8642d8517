import type { ClipFault, ClipState, ClipView } from '@/lib/domain/clips/clip';
import type { ClipId } from '@/lib/domain/shared/ids';

/** A clip as screens show and play it: its facts, and addresses that are signed for the viewer. */
export interface ClipOnPage {
  id: ClipId;
  view: ClipView | null;
  state: ClipState;
  progress: number;
  fault: ClipFault | null;
  width: number | null;
  height: number | null;
  frameCount: number | null;
  fileRate: number | null;
  captureRate: number | null;
  rateIsSure: boolean;
  focal35mm: number | null;
  isZoomed: boolean | null;
  video: string;
  table: string;
  poster: string;
}
