'use client';

import { Dialog } from '@/app/_ui/dialog';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { LessonDetail } from '@/lib/domain/lessons/lesson';
import type { ClipMeasured } from '@/app/lessons/_measure/measured';
import type { MeasureName } from '@/lib/domain/measures/names';
import type { Target } from '@/lib/domain/measures/target';
import type { Sheet } from '@/lib/domain/review/sheet';
import { SwingSection } from '../_lesson/swing-section';
import { PreviewBreakdowns } from './preview-breakdowns';

type Props = {
  isOpen: boolean;
  onClose: () => void;
  sheet: Sheet;
  lesson: LessonDetail;
  clips: readonly ClipOnPage[];
  measured: readonly ClipMeasured[];
  targets: ReadonlyMap<MeasureName, Target>;
  now: Date;
  timeZone: string;
};

/** The lesson as the player will read it, made of the very parts of their page. */
export const PreviewDialog = ({ isOpen, onClose, sheet, lesson, clips, ...numbers }: Props) => (
  <Dialog isOpen={isOpen} onClose={onClose} title="As the player will read it" isLarge>
    <p className="over">Fix first</p>
    <h1>{sheet.fixFirst?.sentence || 'Nothing chosen yet'}</h1>
    {sheet.cues
      .filter((cue) => cue.text.trim())
      .map((cue) => (
        <p key={cue.id} className="asked">
          {cue.text}
        </p>
      ))}
    <PreviewBreakdowns lesson={lesson} clips={clips} />
    <SwingSection sheet={sheet} checklist={lesson.checklist} clips={clips} bats={lesson.bats} {...numbers} />
  </Dialog>
);
