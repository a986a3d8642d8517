import { afterEach, describe, expect, test, vi } from 'vitest';
import { joinParts, readPart } from '@/lib/domain/breakdowns/parse-part';
import { PART_TYPE } from '@/lib/domain/breakdowns/timeline';
import { fetchRemark, fileOfRemark } from '@/lib/review/remarks/spoken-remark';

const ID = '018f5e2a-0000-7000-8000-000000000001';
const remark = {
  voice: new Uint8Array([1, 2, 3, 10, 4]),
  voiceType: 'audio/webm;codecs=opus',
  durationMs: 2400,
};

afterEach(() => void vi.unstubAllGlobals());

describe('the file of a spoken remark', () => {
  test('is one part without events that is read again, line feeds in the voice and all', async () => {
    const file = fileOfRemark(ID, remark);
    expect(file.type).toBe(PART_TYPE);
    const { head, voice } = readPart(new Uint8Array(await file.arrayBuffer()));
    expect(head).toMatchObject({ segmentId: ID, number: 0, toMs: 2400, events: [] });
    expect([...voice]).toEqual([1, 2, 3, 10, 4]);
    expect(joinParts([head])).toMatchObject({ events: [], durationMs: 2400, missing: [] });
  });

  test('is heard again as the voice alone', async () => {
    vi.stubGlobal('fetch', async () => new Response(fileOfRemark(ID, remark)));
    const voice = await fetchRemark('/somewhere', new AbortController().signal);
    expect(voice.size).toBe(5);
    expect(voice.type).toBe('audio/webm;codecs=opus');
  });

  test.each([
    ['gone', async () => new Response(null, { status: 404 }), 'could not be loaded'],
    ['cut short', async () => new Response(fileOfRemark(ID, remark).slice(0, -2)), 'arrived damaged'],
  ])('%s is refused with a sentence', async (_what, answer, sentence) => {
    vi.stubGlobal('fetch', answer);
    await expect(fetchRemark('/somewhere', new AbortController().signal)).rejects.toMatchObject({
      forPeople: expect.stringContaining(sentence),
    });
  });
});
