import { fileName, frameCount, frameNear, type DemoClip } from './demo-clips';
import { timingOf } from './style';

/** What the demo needs to know about a shipped clip. Frames are counted from 0 in display order. */
export function manifestOf(clip: DemoClip) {
  const at = timingOf(clip.hitter.style);
  const { width, height } = clip.camera;
  return {
    file: fileName(clip),
    person: clip.person,
    bats: clip.hitter.bats,
    lesson: clip.lesson,
    view: clip.view,
    width,
    height,
    frames: frameCount(clip),
    fileRate: clip.fileRate,
    captureRate: clip.captureRate,
    turned: clip.turned,
    uneven: clip.uneven,
    sound: clip.sound,
    strideFootOpen: clip.hitter.style.strideFootOpen,
    checkpoints: {
      stance: frameNear(clip, Math.max(clip.start, at.loadStart - 0.1)),
      load: frameNear(clip, at.loadPeak),
      strikeToe: frameNear(clip, at.toe),
      strikeFullPlant: frameNear(clip, at.plant),
      contact: frameNear(clip, 0),
      finish: frameNear(clip, at.finish),
    },
  };
}
