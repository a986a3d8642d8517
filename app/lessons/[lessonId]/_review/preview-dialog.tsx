'use client';

import { Dialog } from '@/app/_ui/dialog';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { Drill } from '@/lib/domain/drills/drill';
import type { LessonDetail } from '@/lib/domain/lessons/lesson';
import type { ClipMeasured } from '@/app/lessons/_measure/measured';
import type { MeasureName } from '@/lib/domain/measures/names';
import type { Target } from '@/lib/domain/measures/target';
import type { Sheet } from '@/lib/domain/review/sheet';
import { SwingSection } from '../_lesson/swing-section';
import { PreviewBreakdowns } from './preview-breakdowns';
import { PreviewDrills } from './preview-drills';

type Props = {
  isOpen: boolean;
  onClose: () => void;
  sheet: Sheet;
  lesson: LessonDetail;
  drills: readonly Drill[];
  stillGiven: number;
  clips: readonly ClipOnPage[];
  measured: readonly ClipMeasured[];
  targets: ReadonlyMap<MeasureName, Target>;
  now: Date;
  timeZone: string;
};

/** The lesson as the player will read it, made of the very parts of their page. */
export const PreviewDialog = (props: Props) => {
  const { isOpen, onClose, sheet, lesson, clips, measured, targets, now, timeZone } = props;
  return (
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
      <SwingSection
        {...{ sheet, clips, measured, targets, now, timeZone }}
        checklist={lesson.checklist}
        bats={lesson.bats}
      />
      <PreviewDrills {...props} />
    </Dialog>
  );
};
