/**
 * Draws the demo clips and writes them with their manifest and truth. Slow (software graphics, about a second a
 * frame), so the results are committed: run it only after the swing or the scene has changed.
 *
 *   npx tsx scripts/render-demo-clips.ts            every clip
 *   npx tsx scripts/render-demo-clips.ts NAME ...   only these
 *   npx tsx scripts/render-demo-clips.ts --facts    manifest and truth only, nothing drawn
 */
import { existsSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import path from 'node:path';
import { chromium } from 'playwright';
import { DEMO_CLIPS, fileName, frameCount, type DemoClip } from '../tests/support/swing/demo-clips';
import { ClipEncoder } from '../tests/support/swing/encode-clip';
import { manifestOf } from '../tests/support/swing/manifest';
import { servePage } from '../tests/support/swing/page-server';
import { truthOf } from '../tests/support/swing/truth';

const ROOT = path.resolve(import.meta.dirname, '..');
const CLIPS = path.join(ROOT, 'prisma/demo/clips');
const TRUTH = path.join(ROOT, 'tests/support/swing/truth');
const QUALITY = 24;
const BATCH = 5;
const BROWSER =
  process.env.CHROMIUM_PATH ?? (existsSync('/usr/bin/chromium') ? '/usr/bin/chromium' : undefined);
const FLAGS =
  '--no-sandbox --use-gl=angle --use-angle=swiftshader --enable-unsafe-swiftshader --disable-quic --no-first-run --disable-background-networking --disable-component-update --disable-sync';

async function writeFacts(): Promise<void> {
  for (const clip of DEMO_CLIPS)
    await writeFile(path.join(TRUTH, `${clip.name}.json`), `${JSON.stringify(truthOf(clip))}\n`);
  await writeFile(
    path.join(CLIPS, 'manifest.json'),
    `${JSON.stringify({ clips: DEMO_CLIPS.map(manifestOf) }, null, 2)}\n`,
  );
}

async function draw(clips: readonly DemoClip[]): Promise<void> {
  let encoder: ClipEncoder | undefined;
  let n = 0;
  const tt = Date.now();
  const { url, server } = await servePage(ROOT, async (_, jpeg) => {
    if (n++ % 10 === 0) console.log(n, Date.now() - tt);
    await encoder?.add(jpeg);
  });
  const browser = await chromium.launch({ executablePath: BROWSER, args: FLAGS.split(' ') });
  try {
    const page = await browser.newPage();
    await page.goto(url);
    for (const clip of clips) {
      const began = Date.now();
      encoder = new ClipEncoder(clip, QUALITY);
      await page.evaluate(`openStage(${JSON.stringify(clip.name)})`);
      for (let from = 0; from < frameCount(clip); from += BATCH) {
        await page.evaluate(`sendFrames(${from}, ${Math.min(frameCount(clip), from + BATCH)})`);
      }
      const file = await encoder.finish();
      await writeFile(path.join(CLIPS, fileName(clip)), file);
      console.log(
        `${fileName(clip)}: ${frameCount(clip)} frames, ${Math.round(file.length / 1024)} KiB, ${Math.round((Date.now() - began) / 1000)} s`,
      );
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
  await draw(
    chosen.map((name) => {
      const clip = DEMO_CLIPS.find((one) => one.name === name);
      if (!clip) throw new Error(`There is no clip called ${name}.`);
      return clip;
    }),
  );
}
