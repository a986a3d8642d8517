import { mkdtemp, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { chooseStorage } from '@/lib/platform/storage';
import { DEFAULT_LIMITS } from '@/lib/platform/uploads/claims';
import { createUploads, type UploadSettings, type Uploads } from '@/lib/platform/uploads/uploads';
import type { Storage } from '@/lib/workflows/ports';
import { FakeClaims, FakePartClaims, personOf } from './fake-claims';
import { HOSTED_TOKEN, HostedStandIn } from './hosted-stand-in';
import { serveUploads } from './http-rig';

export const SECRET = 's'.repeat(40);

/** Uploads at one of the two hosts, ready to be talked to as a browser would. */
export interface HostRig {
  uploads: Uploads;
  claims: FakeClaims;
  parts: FakePartClaims;
  storage: Storage;
  origin: string;
  folder: string;
  standIn: HostedStandIn | null;
  /** How the sender reaches presigned addresses. */
  reach: typeof fetch;
  /** The same program started again on the same folder, as after a kill. */
  restart(change?: Partial<UploadSettings>): Promise<Uploads>;
  close(): Promise<void>;
}

const quiet = { info: () => {}, warn: () => {}, error: () => {} };

/** Starts uploads over a fresh folder: the embedded ingest over real HTTP, or the hosted service's stand-in. */
export const startHost = async (
  host: 'embedded' | 'hosted',
  change: Partial<UploadSettings> = {},
): Promise<HostRig> => {
  const folder = await mkdtemp(path.join(os.tmpdir(), 'uploads-'));
  const claims = new FakeClaims();
  const parts = new FakePartClaims();
  const standIn = host === 'hosted' ? new HostedStandIn() : null;
  const chosen = chooseStorage({
    dataFolder: folder,
    ...(standIn && { uploadthingToken: HOSTED_TOKEN, fetch: standIn.fetch }),
  });
  const make = (more: Partial<UploadSettings>) =>
    createUploads(
      {
        ...{
          dataFolder: folder,
          secret: SECRET,
          claims,
          parts,
          personOf,
          log: quiet,
          ...(standIn && { fetch: standIn.fetch }),
        },
        limits: { ...DEFAULT_LIMITS, maxBytes: 4_000_000 },
        ...change,
        ...more,
      },
      chosen,
    );
  let rig = await serveUploads(make({}));
  const result: HostRig = {
    ...{ claims, parts, folder, standIn, storage: chosen.storage, origin: rig.origin, uploads: make({}) },
    reach: standIn ? standIn.fetch : fetch,
    async restart(more = {}) {
      await rig.close();
      const uploads = make(more);
      rig = await serveUploads(uploads);
      Object.assign(result, { uploads, origin: rig.origin });
      if (standIn) standIn.deliver = (request) => uploads.handle(request);
      return uploads;
    },
    async close() {
      await rig.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
  await result.restart();
  return result;
};
