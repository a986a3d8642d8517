import { NextRequest } from 'next/server';
import { afterEach, expect, test, vi } from 'vitest';
import { config, proxy } from '@/proxy';

afterEach(() => vi.unstubAllEnvs());

const answer = () => proxy(new NextRequest('http://127.0.0.1:3000/lessons'));
const nonceIn = (policy: string | null) => /'nonce-([^']+)'/.exec(policy ?? '')?.[1];

test('every answer has a policy with a nonce of its own, which the page is told', () => {
  const [first, second] = [answer(), answer()];
  const nonce = nonceIn(first.headers.get('content-security-policy'));
  expect(Buffer.from(nonce ?? '', 'base64')).toHaveLength(16);
  expect(nonceIn(second.headers.get('content-security-policy'))).not.toBe(nonce);
  expect(first.headers.get('x-middleware-request-x-nonce')).toBe(nonce); // how Next hands headers to the page
});

test('browsers are told to stay with https where it is https', () => {
  vi.stubEnv('NEXTAUTH_URL', 'https://lessons.example.org');
  expect(answer().headers.get('strict-transport-security')).toMatch(/^max-age=\d{8}/);
});

test('and are not where it is not', () => {
  vi.stubEnv('NEXTAUTH_URL', 'http://127.0.0.1:3000');
  expect(answer().headers.has('strict-transport-security')).toBe(false);
});

test.each([
  ['/', true],
  ['/lessons/1/review', true],
  ['/api/health', true],
  ['/sign-in', true],
  ['/api/ingest/abc', false], // bodies that pass through the proxy are cut at 10 MB
  ['/api/media/abc', false],
  ['/api/uploadthing', false],
  ['/_next/static/chunk.js', false],
])('%s passes through the proxy: %s', (path, does) => {
  const [pattern = ''] = config.matcher;
  expect(new RegExp(`^${pattern}$`).test(path)).toBe(does);
});
