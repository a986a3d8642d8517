import { createUploadthing, UploadThingError, UTFiles } from 'uploadthing/server';
import type { FileRouter } from 'uploadthing/types';
import * as z from 'zod';
import { ACCEPTED_TYPES, acceptedType, originalKey } from '@/lib/domain/clips/accepted-types';
import { STATUS_OF } from '@/lib/domain/shared/errors';
import type { DeclaredFile, UploadClaims, UploadLimits } from './claims';
import { ClipRefusal, toldRefusal } from './refusal';

/** What travels with an upload from its claim to its completion; signed, so that no sender can change it. */
export const clipMetadataSchema = z.object({
  clipId: z.uuid(),
  personId: z.string(),
  storageKey: z.string(),
  sizeBytes: z.int(),
  declaredType: z.enum(Object.keys(ACCEPTED_TYPES) as [keyof typeof ACCEPTED_TYPES]),
  print: z.string().optional(),
});
export type ClipMetadata = z.infer<typeof clipMetadataSchema>;

/** What a sender hears at the end: kept, with its checksum, or turned away for a closed reason. */
export type ClipAnswer = { clipId: string; md5: string } | { clipId: string; fault: string; message: string };

export interface ClipRouterHooks {
  claims: UploadClaims;
  limits: UploadLimits;
  /** Set at the hosted service, where files would be public otherwise. */
  acl?: 'private';
  /** Last check of a claim against what the host holds under that clip already. */
  admit(metadata: ClipMetadata, isStored: boolean): Promise<void>;
  /** Every byte is at the host. */
  complete(metadata: ClipMetadata, file: { size: number; fileHash: string }): Promise<ClipAnswer>;
}

const inputSchema = z.object({
  clipId: z.uuid().transform((id) => id.toLowerCase()),
  print: z.string().max(100).optional(),
});

const SDK_CODE = new Map([
  [STATUS_OF['not-signed-in'] as number, 'FORBIDDEN'],
  [STATUS_OF.safeguarding, 'FORBIDDEN'],
  [STATUS_OF['not-found'], 'NOT_FOUND'],
  [STATUS_OF['too-large'], 'TOO_LARGE'],
] as const);

/** A refusal in the SDK's own error type; the closed reason travels as `fault`. */
const asSdkError = (error: unknown) => {
  if (error instanceof UploadThingError) return error;
  const { status, message, fault } = toldRefusal(error);
  const code = SDK_CODE.get(status) ?? (status >= 500 ? 'INTERNAL_SERVER_ERROR' : 'BAD_REQUEST');
  return new UploadThingError({ code, message, data: { fault } });
};

/** The closed name under which a sender hears that a repeat is not needed: to it that is success. */
const alreadyStored = () =>
  new UploadThingError({
    code: 'BAD_REQUEST',
    message: 'This clip is here already.',
    data: { fault: 'already-stored' },
  });

const faultSchema = z.object({ fault: z.string() });

const declaredOf = (file: { size: number; type: string }, limits: UploadLimits): DeclaredFile => {
  const type = acceptedType(file.type);
  if (file.size === 0) throw new ClipRefusal('empty');
  if (type === null)
    throw new ClipRefusal(file.type.startsWith('audio/') ? 'no-picture' : 'not-a-video', {
      declared: file.type,
    });
  if (file.size > limits.maxBytes) throw new ClipRefusal('too-large', { sizeBytes: file.size });
  return { sizeBytes: file.size, type };
};

const GIB = 1024 ** 3;

/** The SDK knows only some sizes: the next one above our limit, which the middleware checks to the byte. */
const sdkLimit = ({ maxBytes }: UploadLimits) => {
  if (maxBytes <= GIB) return '1GB';
  return maxBytes <= 16 * GIB ? '16GB' : '1024GB';
};

/** The SDK's router with its one slug `clip`: one file a request, input `{ clipId }`. */
export const createClipRouter = (hooks: ClipRouterHooks) => {
  const route = createUploadthing({
    errorFormatter: (error) => {
      const told = faultSchema.safeParse(error.data);
      return { message: error.message, fault: told.success ? told.data.fault : 'invalid' };
    },
  });
  return {
    clip: route(
      {
        video: { maxFileSize: sdkLimit(hooks.limits), maxFileCount: 1, ...(hooks.acl && { acl: hooks.acl }) },
      },
      // The host's file key comes from the clip alone: the same clip finds its bytes again after a reload.
      { awaitServerData: true, presignedURLTTL: '1h', getFileHashParts: (file) => [file.name] },
    )
      .input(inputSchema)
      .middleware(async ({ req, input, files }) => {
        try {
          const file = files[0];
          if (!file || files.length > 1) throw new ClipRefusal('empty');
          const declared = declaredOf(file, hooks.limits);
          const { personId, isStored } = await hooks.claims.claim(req, input.clipId, declared);
          const storageKey = originalKey(input.clipId, declared.type);
          const metadata: ClipMetadata = {
            ...input,
            personId,
            storageKey,
            sizeBytes: declared.sizeBytes,
            declaredType: declared.type,
          };
          await hooks.admit(metadata, isStored);
          if (isStored) throw alreadyStored();
          // Never the sender's own file name: it may tell a name or a place.
          const name = `${input.clipId}.${ACCEPTED_TYPES[declared.type].ending}`;
          return { ...metadata, [UTFiles]: [{ ...file, type: declared.type, name, customId: storageKey }] };
        } catch (error) {
          throw asSdkError(error);
        }
      })
      .onUploadComplete(({ metadata, file }) =>
        hooks.complete(clipMetadataSchema.parse(metadata), { size: file.size, fileHash: file.fileHash }),
      ),
  } satisfies FileRouter;
};
