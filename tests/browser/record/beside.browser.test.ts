import { afterEach, expect, test, vi } from 'vitest';
import { indexTimeline, sceneAt } from '@/lib/domain/breakdowns/scene';
import { joinPieces } from '@/lib/domain/breakdowns/join';
import { joinParts } from '@/lib/domain/breakdowns/parse-part';
import { parseTimeline } from '@/lib/domain/breakdowns/parse-timeline';
import { partnerFrame } from '@/lib/review/compare/pairing';
import { openFrameSource } from '@/lib/review/media/open-frame-source';
import { Player } from '@/lib/review/player/player';
import { createReplay } from '@/lib/review/replay/replay';
import { CLIP } from '../canvas/stage';
import { countedClip, numberIn, type CountedClip } from '../player/counted-clip';
import { openBench } from './bench-of';

const OTHER = '018f5e2a-0000-7000-8000-00000000c12b';
/** The frames of the two clips that show the same event. */
const LOCKED = { own: 40, other: 60 };
const releases: (() => void)[] = [];
afterEach(() => {
  for (const release of releases.splice(0).reverse()) release();
});

const openPlayer = async ({ url, table }: CountedClip): Promise<Player> => {
  const player = new Player(await openFrameSource({ url, table }), table);
  releases.push(() => player.dispose());
  return player;
};
const shows = (player: Player, frame: number) =>
  vi.waitFor(() => expect(player.getSnapshot().shownFrame).toBe(frame), { timeout: 10_000, interval: 5 });

test('a comparison that was recorded is kept and replayed with the exact frames of both clips', async () => {
  const [ownClip, otherClip] = await Promise.all([countedClip('review'), countedClip('fast')]);
  const other = await openPlayer(otherClip);
  // Nobody looks at it here; a player shows what somebody draws.
  other.onPicture(() => undefined);
  const at = await openBench({
    clips: () => [
      { clipId: CLIP, frameCount: ownClip.table.ptsUs.length },
      { clipId: OTHER, frameCount: otherClip.table.ptsUs.length },
    ],
  });
  releases.push(at.close);
  const pairOf = ({ source, stretch }: Player, lockedFrame: number) => ({
    ptsUs: source.ptsUs,
    stretch,
    lockedFrame,
  });
  const partnerOf = (frame: number) =>
    partnerFrame(pairOf(at.player, LOCKED.own), frame, pairOf(other, LOCKED.other));
  const wanted: { t: number; own: number; other: number | null }[] = [];
  /** Goes to a frame, holds its partner beside it, and notes when both stood. */
  const hold = async (own: number, opacity: number) => {
    at.player.goTo(own);
    await shows(at.player, own);
    const frame = partnerOf(own);
    other.goTo(frame);
    await shows(other, frame);
    at.tap.around({ beside: { clipId: OTHER, frame, opacity } });
    wanted.push({ t: at.session.getSnapshot().ms, own, other: frame });
  };

  await at.session.start('silent');
  const later = () => {
    const { ms } = at.session.getSnapshot();
    return at.until(() => at.session.getSnapshot().ms > ms + 60);
  };
  for (const [own, opacity] of [
    [LOCKED.own, 0],
    [43, 0],
    [37, 0.5],
    [46, 0.5],
    [34, 0],
  ] as const) {
    await hold(own, opacity);
    await later();
    wanted.at(-1)!.t = at.session.getSnapshot().ms;
    await later();
  }
  at.tap.around({ beside: null });
  await later();
  wanted.push({ t: at.session.getSnapshot().ms, own: 34, other: null });
  await later();
  await at.session.keep();
  expect(at.session.getSnapshot().phase).toBe('kept');
  // Eight times as many pictures a second: the partner is another frame, and moves eight for one.
  expect(wanted.map((one) => one.other)).toEqual([60, 84, 36, 108, 12, null]);

  // As the server joins it, from what was sent.
  const { recipe } = at.kept[0]!;
  const takes = new Map(
    recipe.pieces.map(({ segmentId }) => {
      const { events, durationMs } = joinParts(at.ofTake(segmentId).map((part) => part.head));
      return [segmentId, { events, durationMs, hasVoice: false }] as const;
    }),
  );
  const timeline = parseTimeline(JSON.parse(JSON.stringify(joinPieces(recipe, takes))));
  const index = indexTimeline(timeline);

  const stage = document.createElement('div');
  Object.assign(stage.style, { position: 'absolute', inset: '0', width: '720px', height: '640px' });
  document.body.replaceChildren(stage);
  const players = new Map([
    [CLIP, await openPlayer(ownClip)],
    [OTHER, await openPlayer(otherClip)],
  ]);
  const replay = createReplay({ timeline, stage, voice: null, players: (clipId) => players.get(clipId)! });
  releases.push(() => replay.dispose());
  const panes = () => [...stage.querySelectorAll<HTMLCanvasElement>('[data-layer=picture]')];
  /** The number burnt into what a pane shows: its picture lies whole and in the middle of the canvas. */
  const seen = async (pane: number, { table }: CountedClip): Promise<number | null> => {
    const canvas = panes()[pane];
    if (!canvas || canvas.width < 10) return null;
    const scale = Math.min(canvas.width / table.width, canvas.height / table.height);
    const [width, height] = [table.width * scale, table.height * scale];
    const [left, top] = [(canvas.width - width) / 2, (canvas.height - height) / 2];
    const picture = await createImageBitmap(canvas, left, top, width, height);
    const number = numberIn(picture, table.width, table.height);
    picture.close();
    return number;
  };
  // There and back again, so that no frame is right only because it was shown before.
  for (const { t, own, other: beside } of [...wanted, ...wanted.toReversed()]) {
    replay.seek(t);
    const scene = sceneAt(index, t);
    expect([scene.frame, scene.beside?.frame ?? null]).toEqual([own, beside]);
    await vi.waitFor(
      async () => {
        expect(replay.getSnapshot().shown).toEqual({ clipId: CLIP, frame: own });
        expect(panes()).toHaveLength(beside === null ? 1 : 2);
        expect(await seen(0, ownClip)).toBe(ownClip.numberOf(own));
        if (beside !== null) expect(await seen(1, otherClip)).toBe(otherClip.numberOf(beside));
      },
      { timeout: 10_000, interval: 20 },
    );
  }
});
