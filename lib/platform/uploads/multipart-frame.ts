import { CagepostError } from '@/lib/domain/shared/errors';
import { ClipRefusal } from './refusal';

const MAX_HEAD = 4096;

const broken = (reason: string) =>
  new CagepostError('invalid', 'What arrived is not an upload. Nothing of it was kept.', { reason });

/** The boundary of a multipart/form-data content type (RFC 7578), or null. */
export const boundaryOf = (contentType: string): string | null =>
  /^multipart\/form-data\s*;.*boundary=(?:"([^"]{1,70})"|([^\s;]{1,70}))/i
    .exec(contentType)
    ?.slice(1)
    .find(Boolean) ?? null;

/**
 * Takes the one file out of a multipart body whose length is known: because the body's length is the sum of head,
 * file and tail, the declared size is checked before a byte of the file is kept, and no parser looks for the
 * boundary inside the file. A shorter body throws `cut-off`, a longer one `too-large`, another shape `invalid`.
 */
export class MultipartFrame {
  private head: Buffer | null = Buffer.alloc(0);
  private tail = Buffer.alloc(0);
  private left: number;

  constructor(
    private readonly boundary: string,
    private readonly bodyBytes: number,
    private readonly fileBytes: number,
  ) {
    this.left = fileBytes;
    if (bodyBytes < fileBytes) throw new ClipRefusal('cut-off', { bodyBytes, fileBytes });
    if (bodyBytes > fileBytes + 2 * MAX_HEAD) throw new ClipRefusal('too-large', { bodyBytes, fileBytes });
  }

  /** The bytes of the file that lie in this chunk; empty while the head is read and after the end. */
  take(chunk: Buffer): Buffer {
    const content = this.head ? this.afterHead(chunk) : chunk;
    if (content.length === 0) return content;
    const file = content.length > this.left ? content.subarray(0, this.left) : content;
    this.left -= file.length;
    if (file.length < content.length) this.tail = Buffer.concat([this.tail, content.subarray(file.length)]);
    return file;
  }

  /** True once every byte of the file has been taken. */
  get isFileWhole(): boolean {
    return this.left === 0;
  }

  /** Throws unless the body ended where its frame says. */
  assertClosed(): void {
    const tail = this.tail.toString('latin1').replace(/\r\n$/, '');
    if (tail !== `\r\n--${this.boundary}--`) throw broken('tail');
  }

  private afterHead(chunk: Buffer): Buffer {
    const head = Buffer.concat([this.head ?? Buffer.alloc(0), chunk]);
    const end = head.indexOf('\r\n\r\n');
    if (end < 0) {
      if (head.length > MAX_HEAD) throw broken('head too long');
      this.head = head;
      return Buffer.alloc(0);
    }
    if (!head.subarray(0, end).toString('latin1').startsWith(`--${this.boundary}\r\n`)) throw broken('head');
    // Head, file, CRLF, dashes, boundary, dashes, and a last CRLF that some senders add.
    const extra = this.bodyBytes - (end + 4) - this.fileBytes - (this.boundary.length + 6);
    // 1 is a file one byte short before that last CRLF.
    if (extra < 0 || extra === 1) throw new ClipRefusal('cut-off', { extra });
    if (extra > 2) throw new ClipRefusal('too-large', { extra });
    this.head = null;
    return head.subarray(end + 4);
  }
}
