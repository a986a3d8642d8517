import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import { makeClip, type ClipRecipe } from '../../support/media/make-clip';

export interface HealthyClip {
  name: string;
  path: string;
  declaredType: string;
}

const small = { width: 96, height: 64, frames: 20 };

const KINDS: { name: string; declaredType: string; recipe: Omit<ClipRecipe, 'path'> }[] = [
  { name: 'plain.mp4', declaredType: 'video/mp4', recipe: { ...small, sound: 440 } },
  { name: 'index-first.mp4', declaredType: 'video/mp4', recipe: { ...small, indexFirst: true } },
  {
    name: 'phone.mov',
    declaredType: 'video/quicktime',
    recipe: { ...small, bFrames: 2, rotation: 90, sound: 300, location: '+40.6892-074.0445/' },
  },
  {
    name: 'edited.mp4',
    declaredType: 'video/mp4',
    recipe: { ...small, frames: 30, bFrames: 2, gop: 15, edit: { hideFirst: 4, hideLast: 3 } },
  },
  { name: 'hevc.mov', declaredType: 'video/quicktime', recipe: { ...small, codec: 'hevc', bFrames: 2 } },
  { name: 'hdr.mov', declaredType: 'video/quicktime', recipe: { ...small, frames: 8, hdr: 'hlg' } },
  { name: 'vp9.webm', declaredType: 'video/webm', recipe: { ...small, sound: 440 } },
  { name: 'h264.mkv', declaredType: 'video/x-matroska', recipe: { ...small, bFrames: 2, sound: 440 } },
];

/** One small healthy file of each kind, to be damaged. */
export async function healthyClips(folder: string): Promise<HealthyClip[]> {
  await mkdir(folder, { recursive: true });
  const clips: HealthyClip[] = [];
  for (const { name, declaredType, recipe } of KINDS) {
    const made = await makeClip({ ...recipe, path: path.join(folder, name) });
    clips.push({ name, path: made.path, declaredType });
  }
  return clips;
}
