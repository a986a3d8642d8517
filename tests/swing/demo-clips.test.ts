import { readdirSync, readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { ALL_FORMATS, EncodedPacketSink, FilePathSource, Input } from 'mediabunny';
import { describe, expect, it } from 'vitest';
import { project } from '../support/swing/camera';
import { decodePictures } from '../support/swing/decode-clip';
import { DEMO_CLIPS, fileName, frameCount, frameNear, stampOf } from '../support/swing/demo-clips';
import { manifestOf } from '../support/swing/manifest';
import { PLATE } from '../support/swing/plate';
import { JOINTS } from '../support/swing/pose';
import { swingOf } from '../support/swing/swing';
import { truthOf } from '../support/swing/truth';
import type { Vec2 } from '../support/swing/vec';

const CLIPS = path.join(import.meta.dirname, '../../prisma/demo/clips');
const TRUTH = path.join(import.meta.dirname, '../support/swing/truth');
const MEBIBYTE = 1024 * 1024;
const read = (file: string): unknown => JSON.parse(readFileSync(file, 'utf8'));
const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

describe('the shipped manifest', () => {
  it('says what the clips are', () => {
    expect(read(path.join(CLIPS, 'manifest.json'))).toEqual({
      clips: DEMO_CLIPS.map((clip) => plain(manifestOf(clip))),
    });
  });

  it('names every file there is and no other', () => {
    const named = DEMO_CLIPS.map(fileName);
    expect(
      readdirSync(CLIPS)
        .filter((name) => /\.(mp4|mov)$/.test(name))
        .sort(),
    ).toEqual([...named].sort());
  });

  it('has its checkpoints in order, each a frame of the clip', () => {
    for (const clip of DEMO_CLIPS) {
      const c = manifestOf(clip).checkpoints;
      const order = [c.stance, c.load, c.strikeToe, c.strikeFullPlant, c.contact, c.finish];
      expect(order, clip.name).toEqual([...order].sort((a, b) => a - b));
      // At 30 a second toe touch and full plant may be one frame apart; no two checkpoints are ever the same frame.
      expect(new Set(order).size, clip.name).toBe(order.length);
      expect(c.finish).toBeLessThan(frameCount(clip));
    }
  });

  it('keeps all files together within 10 MB', () => {
    const bytes = readdirSync(CLIPS).reduce((sum, name) => sum + statSync(path.join(CLIPS, name)).size, 0);
    expect(bytes).toBeLessThan(10 * MEBIBYTE);
  });
});

describe.each(DEMO_CLIPS)('the file of $name', (clip) => {
  const open = () =>
    new Input({ source: new FilePathSource(path.join(CLIPS, fileName(clip))), formats: ALL_FORMATS });

  it('holds the frames, times, size and turn it is said to', async () => {
    using input = open();
    const track = await input.getPrimaryVideoTrack();
    if (!track) throw new Error('no picture');
    expect([track.displayWidth, track.displayHeight]).toEqual([clip.camera.width, clip.camera.height]);
    expect(track.rotation).toBe(clip.turned);
    const stamps: number[] = [];
    for await (const packet of new EncodedPacketSink(track).packets(undefined, undefined, {
      metadataOnly: true,
    })) {
      stamps.push(packet.timestamp);
    }
    stamps.sort((a, b) => a - b);
    expect(stamps).toHaveLength(frameCount(clip));
    // The container counts in 1/57,600 of a second.
    stamps.forEach((stamp, i) => expect(Math.abs(stamp - stampOf(clip, i) / 1e6)).toBeLessThan(2e-5));
    expect((await input.getPrimaryAudioTrack()) !== null).toBe(clip.sound);
    const mime = await input.getMimeType();
    expect(mime).toContain(clip.container === 'mov' ? 'video/quicktime' : 'video/mp4');
  });
});

describe.each(DEMO_CLIPS)('the pictures of $name', (clip) => {
  // Upright pixels to stored ones: a clip that is shown turned clockwise is stored turned back.
  const stored = ([x, y]: Vec2): Vec2 => (clip.turned === 90 ? [y, clip.camera.width - 1 - x] : [x, y]);

  it('show the bright ball where the truth has it until it is hit, and nothing there afterwards', async () => {
    const swing = swingOf(clip.hitter);
    const contact = frameNear(clip, 0);
    const [before, after] = [contact - 2, frameCount(clip) - 1];
    const { count, pictures } = await decodePictures(
      path.join(CLIPS, fileName(clip)),
      new Set([before, after]),
    );
    expect(count).toBe(frameCount(clip));
    const [x, y] = stored(project(clip.camera, swing.ballAt));
    const [there, gone] = [before, after].map((frame) => pictures.get(frame)!.at(x, y));
    expect(there![0]).toBeGreaterThan(140);
    expect(Math.hypot(...there!.map((value, i) => value - gone![i]!))).toBeGreaterThan(20);
  });
});

describe.each(DEMO_CLIPS)('the truth of $name', (clip) => {
  const truth = truthOf(clip);

  it('is shipped as it is computed', () => {
    expect(read(path.join(TRUTH, `${clip.name}.json`))).toEqual(plain(truth));
  });

  it('has every joint and the whole plate inside the picture', () => {
    const { width, height } = clip.camera;
    for (const frame of truth.frames) {
      for (let i = 0; i < frame.picture.length; i += 2) {
        const [x, y] = [frame.picture[i]! / 10, frame.picture[i + 1]! / 10];
        const where = `${JOINTS[i / 2]} at ${frame.timeUs}`;
        expect(x > 0 && x < width && y > 0 && y < height, where).toBe(true);
      }
    }
    for (const [px, py] of PLATE) {
      const [x, y] = project(clip.camera, [px, py, 0]);
      expect(x > 0 && x < width && y > 0 && y < height).toBe(true);
    }
  });
});
