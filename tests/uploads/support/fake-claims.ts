import type {
  PartClaims,
  PartSubject,
  StoredClip,
  StoredPart,
  UploadClaims,
} from '@/lib/platform/uploads/claims';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { ClipFault } from '@/lib/domain/clips/clip';

/** The person in a test's cookie, as the session would say it. */
export const personOf = async (request: Request): Promise<string | null> =>
  /(?:^|; )person=([\w-]+)/.exec(request.headers.get('cookie') ?? '')?.[1] ?? null;

/** Claims kept in memory: the first to claim a clip owns it, `stored` is counted to prove that repeats are told apart. */
export class FakeClaims implements UploadClaims {
  readonly owners = new Map<string, string>();
  readonly storedClips: StoredClip[] = [];
  readonly refusals: { clipId: string; fault: ClipFault }[] = [];
  readonly progressed: number[] = [];
  /** Thrown by the next calls of `stored`, one each. */
  readonly storedThrows: Error[] = [];

  async claim(request: Request, clipId: string): Promise<{ personId: string; isStored: boolean }> {
    const personId = await personOf(request);
    if (personId === null) throw new CagepostError('not-signed-in', 'Please sign in.');
    const owner = this.owners.get(clipId) ?? personId;
    if (owner !== personId) throw notFound('clip');
    this.owners.set(clipId, owner);
    return { personId, isStored: this.storedClips.some((clip) => clip.clipId === clipId) };
  }

  async progress(facts: { receivedBytes: number }): Promise<void> {
    this.progressed.push(facts.receivedBytes);
  }

  async stored(clip: StoredClip): Promise<void> {
    const failure = this.storedThrows.shift();
    if (failure) throw failure;
    this.storedClips.push(clip);
  }

  async refused(facts: { clipId: string; fault: ClipFault }): Promise<void> {
    this.refusals.push(facts);
  }
}

/** The same for parts: whoever is signed in may send them. */
export class FakePartClaims implements PartClaims {
  readonly storedParts: StoredPart[] = [];
  /** Thrown by the next calls of `stored`, one each. */
  readonly storedThrows: Error[] = [];
  /** What was said of the content in each claim. */
  readonly prints: (string | undefined)[] = [];

  async claim(
    request: Request,
    part: PartSubject,
    { print }: { print?: string | undefined },
  ): Promise<{ personId: string; isStored: boolean }> {
    this.prints.push(print);
    const personId = await personOf(request);
    if (personId === null) throw new CagepostError('not-signed-in', 'Please sign in.');
    const name = JSON.stringify(part);
    return { personId, isStored: this.storedParts.some((stored) => JSON.stringify(stored.part) === name) };
  }

  async stored(part: StoredPart): Promise<void> {
    const failure = this.storedThrows.shift();
    if (failure) throw failure;
    this.storedParts.push(part);
  }
}
