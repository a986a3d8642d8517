import * as z from 'zod';
import type { Brand } from './brand';

export type ProgramId = Brand<string, 'ProgramId'>;
export type PersonId = Brand<string, 'PersonId'>;
export type ThreadId = Brand<string, 'ThreadId'>;
export type LessonId = Brand<string, 'LessonId'>;
export type ClipId = Brand<string, 'ClipId'>;
export type ReplyId = Brand<string, 'ReplyId'>;
export type MarkId = Brand<string, 'MarkId'>;
export type LedgerEntryId = Brand<string, 'LedgerEntryId'>;
export type PackId = Brand<string, 'PackId'>;
export type PriceId = Brand<string, 'PriceId'>;
export type DocumentId = Brand<string, 'DocumentId'>;
export type CardPaymentId = Brand<string, 'CardPaymentId'>;
export type InvitationId = Brand<string, 'InvitationId'>;
export type BreakdownId = Brand<string, 'BreakdownId'>;
export type RemarkId = Brand<string, 'RemarkId'>;
export type NoticeId = Brand<string, 'NoticeId'>;
export type ExportId = Brand<string, 'ExportId'>;

/** Any of the project's ids: a UUID in lower case (RFC 9562). The caller says which id it is. */
export const anId = <Id extends string>() =>
  z.uuid('That id is not one of ours.').transform((id) => id.toLowerCase() as unknown as Id);
