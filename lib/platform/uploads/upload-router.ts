import { createUploadthing, UploadThingError, UTFiles } from 'uploadthing/server';
import type { FileRouter } from 'uploadthing/types';
import * as z from 'zod';
import { STATUS_OF } from '@/lib/domain/shared/errors';
import { ClipRefusal, toldRefusal } from './refusal';
import { uploadIdOf, type UploadSort, type UploadSorts } from './upload-sort';

/** What travels with an upload from its claim to its completion; signed, so that no sender can change it. */
export const uploadMetadataSchema = z.object({
  id: z.string(),
  slug: z.enum(['clip', 'part']),
  subject: z.record(z.string(), z.union([z.string(), z.number()])),
  personId: z.string(),
  storageKey: z.string(),
  sizeBytes: z.int(),
  declaredType: z.string(),
  print: z.string().optional(),
});
export type UploadMetadata = z.infer<typeof uploadMetadataSchema>;

/** What a sender hears at the end, with what it named: kept, with its checksum, or turned away for a closed reason. */
export type UploadAnswer = { id: string } & ({ md5: string } | { fault: string; message: string });

export interface UploadRouterHooks {
  sorts: UploadSorts;
  /** Set at the hosted service, where files would be public otherwise. */
  acl?: 'private';
  /** Last check of a claim against what the host holds under that name already. */
  admit(metadata: UploadMetadata, isStored: boolean): Promise<void>;
  /** Every byte is at the host. */
  complete(metadata: UploadMetadata, file: { size: number; fileHash: string }): Promise<UploadAnswer>;
}

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
    message: 'This is here already.',
    data: { fault: 'already-stored' },
  });

const faultSchema = z.object({ fault: z.string() });

const GIB = 1024 ** 3;

/** The SDK knows only some sizes: the next one above our limit, which the middleware checks to the byte. */
const sdkLimit = ({ maxBytes }: UploadSort) => {
  if (maxBytes <= GIB) return '1GB';
  return maxBytes <= 16 * GIB ? '16GB' : '1024GB';
};

/** The SDK's router with the slugs `clip` and `part`: one file a request, input what names it. */
export const createUploadRouter = (hooks: UploadRouterHooks) => {
  const route = createUploadthing({
    errorFormatter: (error) => {
      const told = faultSchema.safeParse(error.data);
      return { message: error.message, fault: told.success ? told.data.fault : 'invalid' };
    },
  });

  const claimed = async (
    sort: UploadSort,
    request: Request,
    input: { subject: UploadMetadata['subject']; print?: string | undefined },
    files: readonly { name: string; size: number; type: string }[],
  ) => {
    const file = files[0];
    if (!file || files.length > 1) throw sort.inItsWords(new ClipRefusal('empty'));
    const declared = sort.declared(file);
    const { personId, isStored } = await sort.claim(request, input.subject, {
      ...declared,
      print: input.print,
    });
    const storageKey = sort.storageKey(input.subject, declared.type);
    const id = uploadIdOf(storageKey);
    if (id === null) throw new TypeError(`No upload lies under ${storageKey}`);
    const metadata: UploadMetadata = {
      ...input,
      ...{ id, slug: sort.slug, personId, storageKey },
      sizeBytes: declared.sizeBytes,
      declaredType: declared.type,
    };
    await hooks.admit(metadata, isStored);
    if (isStored) throw alreadyStored();
    // Never the sender's own file name: it may tell a name or a place.
    const name = `${id}.${sort.ending(declared.type)}`;
    return { ...metadata, [UTFiles]: [{ ...file, type: declared.type, name, customId: storageKey }] };
  };

  const routeOf = <Kind extends 'video' | 'blob'>(sort: UploadSort, kind: Kind) => {
    const inputSchema = z
      .record(z.string(), z.union([z.string(), z.number()]))
      .transform((given, context) => {
        const { print, ...named } = given;
        const parsed = z
          .object({ subject: sort.subjectSchema, print: z.string().max(100).optional() })
          .safeParse({ subject: named, print });
        if (parsed.success) return parsed.data;
        context.addIssue('That names nothing that can be sent.');
        return z.NEVER;
      });
    const limits = {
      maxFileSize: sdkLimit(sort),
      maxFileCount: 1,
      ...(hooks.acl && { acl: hooks.acl }),
    } as const;
    return route(
      { [kind]: limits } as Record<Kind, typeof limits>,
      // The host's file key comes from the name alone: the same upload finds its bytes again after a reload.
      { awaitServerData: true, presignedURLTTL: '1h', getFileHashParts: (file) => [file.name] },
    )
      .input(inputSchema)
      .middleware(async ({ req, input, files }) => {
        try {
          return await claimed(sort, req, input, files);
        } catch (error) {
          throw asSdkError(error);
        }
      })
      .onUploadComplete(({ metadata, file }) =>
        hooks.complete(uploadMetadataSchema.parse(metadata), { size: file.size, fileHash: file.fileHash }),
      );
  };

  return {
    clip: routeOf(hooks.sorts.clip, 'video'),
    part: routeOf(hooks.sorts.part, 'blob'),
  } satisfies FileRouter;
};
