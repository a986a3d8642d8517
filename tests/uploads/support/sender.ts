import { randomBytes, randomUUID } from 'node:crypto';
import { request as httpRequest } from 'node:http';

/** Bytes that begin like a MOV (an `ftyp` box with the brand `qt  `, ISO/IEC 14496-12) and go on at random. */
export const movieBytes = (size: number): Buffer => {
  const bytes = randomBytes(size);
  bytes.set(Buffer.from('\0\0\0\x14ftypqt  \x20\x05\x03\0qt  ', 'latin1').subarray(0, size), 0);
  return bytes;
};

export const ANNA = '0197a000-0000-7000-8000-00000000000a';
export const BERT = '0197a000-0000-7000-8000-00000000000b';

export interface Presigned {
  status: number;
  clipId: string;
  /** Absolute address of the PUT; empty when refused. */
  url: string;
  body: { message?: string; fault?: string }[] & { message?: string; fault?: string; url?: string };
}

/** Asks for an upload as the SDK's client does. */
export const presign = async (
  origin: string,
  file: { size: number; type?: string; name?: string },
  options: { clipId?: string; person?: string | null; print?: string } = {},
): Promise<Presigned> => {
  const clipId = options.clipId ?? randomUUID();
  const person = options.person === undefined ? ANNA : options.person;
  const answer = await fetch(`${origin}/api/uploadthing?actionType=upload&slug=clip`, {
    method: 'POST',
    headers: {
      'content-type': 'application/json',
      'x-uploadthing-version': '7.7.4',
      ...(person && { cookie: `person=${person}` }),
    },
    body: JSON.stringify({
      files: [{ name: file.name ?? 'My kid.MOV', size: file.size, type: file.type ?? 'video/quicktime' }],
      input: { clipId, ...(options.print && { print: options.print }) },
    }),
  });
  const body = (await answer.json()) as Presigned['body'];
  const relative = answer.ok ? (body[0] as { url?: string } | undefined)?.url : undefined;
  return { status: answer.status, clipId, body, url: relative ? new URL(relative, origin).href : '' };
};

export interface PutAnswer {
  status: number;
  body: { error?: string; fault?: string; fileHash?: string; serverData?: Record<string, string> };
}

/** Sends bytes as the SDK's client does: multipart with one part `file` and a Range header. */
export const put = async (
  url: string,
  bytes: Uint8Array,
  options: {
    from?: number;
    person?: string | null;
    headers?: Record<string, string>;
    reach?: typeof fetch;
  } = {},
): Promise<PutAnswer> => {
  const form = new FormData();
  form.append('file', new Blob([new Uint8Array(bytes)], { type: 'video/quicktime' }), 'x.mov');
  const person = options.person === undefined ? ANNA : options.person;
  const answer = await (options.reach ?? fetch)(url, {
    method: 'PUT',
    body: form,
    headers: {
      range: `bytes=${options.from ?? 0}-`,
      ...(person && { cookie: `person=${person}` }),
      ...options.headers,
    },
  });
  return { status: answer.status, body: (await answer.json()) as PutAnswer['body'] };
};

/** The offset that the ingest names. */
export const offset = async (url: string, person = ANNA): Promise<number> => {
  const answer = await fetch(url, { method: 'HEAD', headers: { cookie: `person=${person}` } });
  return Number(answer.headers.get('x-ut-range-start') ?? Number.NaN);
};

const HEAD = '--cut\r\nContent-Disposition: form-data; name="file"; filename="a"\r\n\r\n';

/** Begins a PUT of the whole file, hands over its first bytes and leaves the connection open; the caller ends it. */
export const beginPut = async (url: string, bytes: Buffer, upTo: number) => {
  const request = httpRequest(url, {
    method: 'PUT',
    headers: {
      range: 'bytes=0-',
      cookie: `person=${ANNA}`,
      'content-type': 'multipart/form-data; boundary=cut',
      'content-length': HEAD.length + bytes.length + '\r\n--cut--\r\n'.length,
    },
  });
  request.on('error', () => {});
  request.write(HEAD);
  await new Promise<void>((resolve) => request.write(bytes.subarray(0, upTo), () => resolve()));
  return {
    request,
    cut: async () => {
      if (request.closed) return;
      await new Promise<void>((resolve) => {
        request.once('close', () => resolve());
        request.destroy();
      });
    },
  };
};

/** The closed name of the reason for which something was refused, wherever in the protocol it was told. */
export const faultOf = (answer: Presigned | PutAnswer): string | undefined =>
  'url' in answer ? answer.body.fault : (answer.body.fault ?? answer.body.serverData?.fault);
