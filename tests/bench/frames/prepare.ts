import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { frameTableSchema } from '@/lib/domain/clips/frame-table';
import { createMediaEngine } from '@/lib/platform/media/engine';
import { makeClip } from '../../support/media/make-clip';
import type { Task } from './measure';
import { phoneRecipes } from './phone-clips';

export interface PreparedClip extends Task {
  name: string;
}

/** Makes the clips and prepares each into its review rendition, as the product does. Throws when one is refused. */
export async function prepareClips(
  folder: string,
  say: (line: string) => void,
  recipes = phoneRecipes(folder),
): Promise<PreparedClip[]> {
  const engine = createMediaEngine({
    scratch: folder,
    maxBytes: 2 ** 30,
    maxSeconds: 180,
    filesPerChild: 100,
  });
  const clips: PreparedClip[] = [];
  try {
    for (const recipe of recipes) {
      const made = await makeClip(recipe);
      const into = path.join(folder, recipe.name);
      const outcome = await engine.prepare({
        original: made.path,
        folder: into,
        declaredType: made.path.endsWith('.mov') ? 'video/quicktime' : 'video/mp4',
        knownRate: null,
        isSilent: false,
      });
      if (!outcome.ok)
        throw new Error(`${recipe.name} was not prepared: ${outcome.fault}, ${outcome.detail}`);
      const table = frameTableSchema.parse(
        JSON.parse(await readFile(path.join(into, 'frames.json'), 'utf8')),
      );
      if (table.ptsUs.length !== made.shownFrames.length) throw new Error(`${recipe.name} lost frames.`);
      say(`prepared ${recipe.name}: ${table.width} by ${table.height}, ${table.ptsUs.length} frames`);
      clips.push({
        name: recipe.name,
        url: `/clips/${recipe.name}/review.mp4`,
        table,
        numbers: made.shownFrames,
      });
    }
  } finally {
    await engine.close();
  }
  return clips;
}
