/** Ids of notices and of daily mails are made of what they are about (RFC 9562, version 5), in this namespace of our own. */
export const NOTICES = '6b0ad9c2-3c55-4c4e-9a3c-5d1f0c4c1c57';
