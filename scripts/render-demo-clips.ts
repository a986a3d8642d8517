/**
 * Draws the demo clips and writes them with their manifest and truth. Slow (software graphics, about a second a
 * frame), so the results are committed: run it only after the swing or the scene has changed.
 *
 *   npx tsx scripts/render-demo-clips.ts            every clip
 *   npx tsx scripts/render-demo-clips.ts NAME ...   only these
 *   npx tsx scripts/render-demo-clips.ts --facts    manifest and truth only, nothing drawn
 */
import { existsSync } from 'node:fs';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { chromium, type Page } from 'playwright';
import { DEMO_CLIPS, fileName, frameCount, type DemoClip } from '../tests/support/swing/demo-clips';
import { ClipEncoder } from '../tests/support/swing/encode-clip';
import { manifestOf } from '../tests/support/swing/manifest';
import { servePage } from '../tests/support/swing/page-server';
import { truthOf } from '../tests/support/swing/truth';
import { CHROMIUM_FLAGS, findChromium } from './chromium.mjs';

const ROOT = path.resolve(import.meta.dirname, '..');
const CLIPS = path.join(ROOT, 'prisma/demo/clips');
const TRUTH = path.join(ROOT, 'tests/support/swing/truth');
/** Pictures already drawn, kept between runs: remove the folder after a change of the scene. */
const DRAWN = path.join(ROOT, '.data/demo-pictures');
const QUALITY = 21;
const BATCH = 5;
const FLAGS = [
  ...CHROMIUM_FLAGS.filter((flag) => flag !== '--disable-gpu'),
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
];

async function writeFacts(): Promise<void> {
  for (const clip of DEMO_CLIPS)
    await writeFile(path.join(TRUTH, `${clip.name}.json`), `${JSON.stringify(truthOf(clip))}\n`);
  await writeFile(
    path.join(CLIPS, 'manifest.json'),
    `${JSON.stringify({ clips: DEMO_CLIPS.map(manifestOf) }, null, 2)}\n`,
  );
}

async function encode(clip: DemoClip, folder: string): Promise<void> {
  const encoder = new ClipEncoder(clip, QUALITY);
  for (let frame = 0; frame < frameCount(clip); frame++) {
    await encoder.add(await readFile(path.join(folder, `${frame}.jpg`)));
  }
  const file = await encoder.finish();
  await writeFile(path.join(CLIPS, fileName(clip)), file);
  console.log(`${fileName(clip)}: ${frameCount(clip)} frames, ${Math.round(file.length / 1024)} KiB`);
}

/** Draws what is not drawn yet: pictures are kept, so that one who was interrupted need not begin again. */
async function draw(page: Page, clip: DemoClip): Promise<void> {
  let isOpen = false;
  for (let from = 0; from < frameCount(clip); from += BATCH) {
    const to = Math.min(frameCount(clip), from + BATCH);
    if (existsSync(path.join(DRAWN, clip.name, `${to - 1}.jpg`))) continue;
    if (!isOpen) await page.evaluate(`openStage(${JSON.stringify(clip.name)})`);
    isOpen = true;
    await page.evaluate(`sendFrames(${from}, ${to})`);
  }
}

async function make(clips: readonly DemoClip[]): Promise<void> {
  let folder = '';
  const { url, server } = await servePage(ROOT, (frame, jpeg) =>
    writeFile(path.join(folder, `${frame}.jpg`), jpeg),
  );
  const browser = await chromium.launch({ executablePath: findChromium(), args: FLAGS, timeout: 0 });
  try {
    const page = await browser.newPage();
    // Software graphics on a busy machine: slow is no fault.
    page.setDefaultTimeout(0);
    await page.goto(url, { timeout: 0 });
    for (const clip of clips) {
      folder = path.join(DRAWN, clip.name);
      await mkdir(folder, { recursive: true });
      await draw(page, clip);
      await encode(clip, folder);
    }
  } finally {
    await browser.close();
    server.close();
  }
}

const names = process.argv.slice(2);
await writeFacts();
if (!names.includes('--facts')) {
  const chosen = names.length > 0 ? names : DEMO_CLIPS.map((clip) => clip.name);
  await make(
    chosen.map((name) => {
      const clip = DEMO_CLIPS.find((one) => one.name === name);
      if (!clip) throw new Error(`There is no clip called ${name}.`);
      return clip;
    }),
  );
}
