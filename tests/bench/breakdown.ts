import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright';
import { ensureChromium } from '../../scripts/chromium.mjs';
import { filmedRecipe } from './breakdown/filmed-clip';
import { writeClicks, writeSpeech } from './breakdown/sounds';
import { killTrial, openTab, type KillReading } from './breakdown/kill';
import { cpuSecondsOf } from './breakdown/processes';
import type { Task } from './frames/measure';
import { exportByWorker } from './breakdown/worker-export';
import { phoneRecipes } from './frames/phone-clips';
import { prepareClips, type PreparedClip } from './frames/prepare';
import { serveBench } from './frames/serve';
import { startBrowser } from './upload/browser';

// A breakdown against a screen recording of the same minute: the bytes, the processor time, what a killed browser
// loses, how far voice and events drift, whether the replay shows the exact frames, how fast it seeks and how fast it
// becomes a file. The screen recording has the lowest of some rates at which it is equally legible (breakdown/legible.ts);
// if none is, the lowest whose share is within 2 of a hundred of the best, so that no byte is counted which makes
// nothing clearer; its bytes are its pictures and the voice of the breakdown, no container. `bytesRatio` is of a clip as
// a phone films it (a hand that moves by parts of a pixel, a sensor's noise of 2 of 255 at middle grey, which is an
// assumption without a source) at the 60 pictures a second it was filmed with: a breakdown shows every frame, and a
// recording that has every second one is not equal to it. `bytesRatioThirty` is of the same clip at 30, as recorders of
// a screen often do, `bytesRatioStillTexture` (30) of a still texture shifted by whole pixels, the easiest there is for
// an encoder. After the first readings came the filmed clip, WebCodecs as the encoder instead of a live recorder, the
// rates below 300 kbit/s, and 60 a second as what `bytesRatio` is of (it was 30): quote all three. The last line printed
// is one JSON object.

const say = (line: string) => console.log(line);
const SCRIPT_MS = Number(process.env.BENCH_SCRIPT_MS ?? 60_000);
const KILLS = Number(process.env.BENCH_KILLS ?? 20);
const SCREEN_BITS = process.env.BENCH_SCREEN_BITS?.split(',').map(Number) ?? [
  150_000, 210_000, 300_000, 420_000, 600_000, 850_000, 1_200_000, 1_700_000, 2_500_000, 3_500_000, 5_000_000,
];
/** The script repeats itself after this long. */
const ROUND_MS = 15_000;
/** This share of the pictures is legible in a recording that shows as much as a breakdown. Our own choice. */
const LEGIBLE_SHARE = 0.95;
/** Pictures a second of the screen recordings. */
const RATES = { usual: 30, sixty: 60 } as const;
/** A share that is less by no more than this is as good. */
const AS_GOOD = 0.02;

const quantile = (values: readonly number[], share: number) => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? NaN;
};
const rounded = (value: number) => Math.round(value * 100) / 100;
const spread = (values: readonly number[]) =>
  `${rounded(Math.min(...values))} to ${rounded(Math.max(...values))}, median ${rounded(quantile(values, 0.5))}`;

/** Work on a page in a browser of its own, with the processor time that all its processes took. */
const measured = async <T>(
  url: string,
  task: Task,
  profile: string,
  work: (page: Page) => Promise<T>,
  flags: readonly string[] = [],
): Promise<{ value: T; cpuS: number }> => {
  const browser = await startBrowser(profile, flags);
  try {
    const page = await browser.newPage();
    await openTab(page, url, task);
    const before = cpuSecondsOf(browser.group);
    const value = await work(page);
    return { value, cpuS: cpuSecondsOf(browser.group) - before };
  } finally {
    await browser.kill();
  }
};

async function main() {
  ensureChromium(say);
  const folder = await mkdtemp(path.join(tmpdir(), 'bench-breakdown-'));
  const closing: (() => Promise<unknown>)[] = [
    () => rm(folder, { recursive: true, force: true, maxRetries: 5 }),
  ];
  const profile = (name: string) => path.join(folder, `profile-${name}`);
  try {
    const still = phoneRecipes(folder).filter((recipe) => recipe.name === 'portrait-ntsc-60-reordered');
    const [task, filmed] = await prepareClips(folder, say, [...still, filmedRecipe(folder)]);
    if (!task || !filmed) throw new Error('There is no clip.');
    const server = await serveBench(folder, 'tests/bench/breakdown/page.html');
    closing.push(server.close);
    const { url } = server;
    const speech = path.join(folder, 'speech.wav');
    await writeSpeech(speech, 60);
    const spoken = [`--use-file-for-fake-audio-capture=${speech}`];
    const run = <T>(name: string, work: (page: Page) => Promise<T>, flags?: readonly string[]) =>
      measured(url, task, profile(name), work, flags);

    if (process.env.BENCH_ONLY === 'export') {
      const browser = await startBrowser(profile('export'), spoken);
      closing.push(() => browser.kill());
      const page = await browser.newPage();
      await openTab(page, url, task);
      await page.evaluate((ms) => window.breakdownBench.breakdown(ms), SCRIPT_MS);
      say(JSON.stringify(await exports(page, task, folder)));
      return;
    }
    const legible = async (of: Task, name: string, rates: readonly number[]) =>
      (
        await measured(url, of, profile(name), async (page) => {
          await page.evaluate((ms) => window.breakdownBench.takeRound(ms), Math.min(ROUND_MS, SCRIPT_MS));
          const found: ScreenReading[] = [];
          for (const rate of rates) found.push(await equallyLegible(page, name, rate));
          return found;
        })
      ).value;
    const [easiest] = await legible(task, 'still texture', [RATES.usual]);
    const [thirty, everyFrame] = await legible(filmed, 'filmed', [RATES.usual, RATES.sixty]);
    if (!easiest || !thirty || !everyFrame) throw new Error('Nothing was recorded.');
    const script = await run(
      'script',
      (page) => page.evaluate((ms) => window.breakdownBench.scriptOnly(ms), SCRIPT_MS),
      spoken,
    );
    const screen = await run(
      'screen',
      (page) =>
        page.evaluate(([ms, rate]) => window.breakdownBench.screen(ms, rate), [
          SCRIPT_MS,
          easiest.bits,
        ] as const),
      spoken,
    );
    let ours: { bytes: number; voiceBytes: number; takeMs: number } | null = null;
    let cpuS = 0;
    let replay: Awaited<ReturnType<Window['breakdownBench']['replay']>> | null = null;
    let file: ExportReading | null = null;
    const browser = await startBrowser(profile('breakdown'), spoken);
    try {
      const page = await browser.newPage();
      await openTab(page, url, task);
      const before = cpuSecondsOf(browser.group);
      ours = await page.evaluate((ms) => window.breakdownBench.breakdown(ms), SCRIPT_MS);
      cpuS = cpuSecondsOf(browser.group) - before;
      file = await exports(page, task, folder);
      const times = Math.max(1, Math.floor(594_000 / ours.takeMs));
      replay = await page.evaluate(
        (n) => window.breakdownBench.replay(n, { seeks: 200, playMs: 20_000 }),
        times,
      );
      say(`replay: a take of ${rounded((times * ours.takeMs) / 60_000)} min, ${replay.read} pictures read`);
    } finally {
      await browser.kill();
    }
    const { bytes: ownBytes, voiceBytes } = ours;
    const ratioOf = ({ bytes }: { bytes: number }) => rounded((bytes + voiceBytes) / ownBytes);
    const own = Math.max(0.01, cpuS - script.cpuS);
    const theirs = screen.cpuS - script.cpuS;
    say(
      `the same ${SCRIPT_MS / 1000} s: breakdown ${Math.round(ours.bytes / 1024)} KiB (voice ${Math.round(ours.voiceBytes / 1024)}), recorded live at ` +
        `${easiest.bits / 1000} kbit/s ${Math.round(screen.value / 1024)} KiB; processor: script alone ${rounded(script.cpuS)} s, ` +
        `breakdown ${rounded(own)} s more, screen recording ${rounded(theirs)} s more`,
    );
    for (const wrong of replay.wrong.slice(0, 5)) say(`  wrong: ${wrong}`);
    say(`seeks: ${spread(replay.seeks)} ms`);

    const clicks = path.join(folder, 'clicks.wav');
    await writeClicks(clicks, 120);
    const sync = await run(
      'sync',
      (page) => page.evaluate((ms) => window.breakdownBench.sync(ms), Math.min(60_000, SCRIPT_MS)),
      [`--use-file-for-fake-audio-capture=${clicks}`],
    );
    say(`voice against events, ${sync.value.length} clicks: ${spread(sync.value)} ms`);

    const kills = await killAll(profile, url, task);
    say(
      JSON.stringify({
        bytesRatio: ratioOf(everyFrame),
        bytesRatioThirty: ratioOf(thirty),
        bytesRatioStillTexture: ratioOf(easiest),
        cpuRatio: rounded(theirs / own),
        killTrials: kills.length,
        voiceLostMaxS: rounded(Math.max(...kills.map((kill) => kill.voiceLostMs)) / 1000),
        eventsLostMax: Math.max(...kills.map((kill) => kill.eventsLost)),
        syncErrorP95Ms: rounded(quantile(sync.value.map(Math.abs), 0.95)),
        wrongReplayFrames: replay.wrong.length,
        seekP95Ms: rounded(quantile(replay.seeks, 0.95)),
        ...file,
      }),
    );
  } finally {
    for (const close of closing.reverse()) await close();
  }
}

interface ExportReading {
  /** How many times faster than it lasts a breakdown becomes a file. */
  exportRealtime: number;
  exportByWorkerRealtime: number;
}

/** Makes files of the breakdown that the page has recorded: in the browser without sound, by a worker with voice. */
async function exports(page: Page, clip: PreparedClip, folder: string): Promise<ExportReading> {
  const file = await page.evaluate(() => window.breakdownBench.exported());
  say(`export in the browser, without sound: ${rounded(file.times)} times real time`);
  const taken = await page.evaluate(() => window.breakdownBench.takenOut());
  const times = await exportByWorker(taken, clip, folder);
  say(`export by a worker, with voice: ${rounded(times)} times real time`);
  return { exportRealtime: rounded(file.times), exportByWorkerRealtime: rounded(times) };
}

interface ScreenReading {
  bits: number;
  bytes: number;
}

/**
 * The screen recording of the round that was taken, at so many pictures a second, that is equally legible at the lowest
 * rate; where none is, the one that is as good as the best of them, so that no byte is counted which makes nothing
 * clearer. All rates are measured and told. Answers its rate and the bytes of its pictures, of the whole script.
 */
async function equallyLegible(page: Page, name: string, framesPerSecond: number): Promise<ScreenReading> {
  const percent = (share: number) => `${rounded(share * 100)} %`;
  const roundMs = Math.min(ROUND_MS, SCRIPT_MS);
  const record = async (bits: number, rounds: number) => {
    const told = await page.evaluate((plan) => window.breakdownBench.screenLegibility(plan), {
      ...{ bits, rounds, roundMs, framesPerSecond },
    });
    say(
      `${name}, screen recording of ${rounded((rounds * roundMs) / 1000)} s at ${bits / 1000} kbit/s and ` +
        `${framesPerSecond} a second: ${Math.round(told.bytes / 1024)} KiB, ${percent(told.share)} of ${told.pictures} pictures legible; ` +
        `${rounded(told.medianDb)} dB median, ${rounded(told.lowDb)} dB p5; blurred ${percent(told.blurred)}, chalk ` +
        `words lost ${percent(told.wordsLost)}, number lost ${percent(told.numberLost)}, late ${percent(told.late)}`,
    );
    return told;
  };
  const tried: { bits: number; share: number }[] = [];
  for (const bits of SCREEN_BITS) tried.push({ bits, share: (await record(bits, 1)).share });
  const best = Math.max(...tried.map(({ share }) => share));
  const wanted = best >= LEGIBLE_SHARE ? LEGIBLE_SHARE : best - AS_GOOD;
  if (best < LEGIBLE_SHARE)
    say(
      `${name}, ${framesPerSecond} a second: none is equally legible; the lowest as good as the best counts`,
    );
  const bits = tried.find(({ share }) => share >= wanted)?.bits ?? 0;
  const { bytes } = await record(bits, Math.max(1, Math.round(SCRIPT_MS / roundMs)));
  return { bits, bytes };
}

async function killAll(profile: (name: string) => string, url: string, task: Task): Promise<KillReading[]> {
  const kills: KillReading[] = [];
  for (let n = 0; n < KILLS; n += 1) {
    // Spread over the phases of a half second and of a part.
    const kill = await killTrial(profile(`kill-${n}`), url, task, 1500 + n * 137 + (n % 4) * 2500);
    kills.push(kill);
    say(
      `kill ${n + 1} of ${KILLS} at ${rounded(kill.reachedMs / 1000)} s: ${Math.round(kill.voiceLostMs)} ms of voice, ` +
        `${kill.eventsLost} events lost`,
    );
  }
  return kills;
}

await main();
