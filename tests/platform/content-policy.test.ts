import { expect, test } from 'vitest';
import { contentPolicy, type PolicyFacts } from '@/lib/platform/content-policy';

const policyOf = (facts: Partial<PolicyFacts> = {}) => {
  const text = contentPolicy({
    nonce: 'abc',
    isDev: false,
    isHttps: true,
    hasHostedUploads: false,
    ...facts,
  });
  return new Map(
    text.split('; ').map((rule) => {
      const [name = '', ...sources] = rule.split(' ');
      return [name, sources];
    }),
  );
};

test('by default nothing is taken from or sent to anybody else', () => {
  const sources = [...policyOf().values()].flat();
  expect(sources.filter((source) => /^https?:|^\*|^wss?:/.test(source))).toEqual([]);
});

test('scripts run by nonce, never inline or evaluated', () => {
  expect(policyOf().get('script-src')).toEqual(["'self'", "'nonce-abc'", "'strict-dynamic'"]);
});

test.each(['object-src', 'base-uri', 'frame-ancestors', 'frame-src'])('%s is shut', (rule) => {
  expect(policyOf().get(rule)).toEqual(["'none'"]);
});

test('pictures drawn in the browser, the player and its workers are let in', () => {
  expect(policyOf().get('img-src')).toEqual(["'self'", 'blob:', 'data:']);
  expect(policyOf().get('media-src')).toEqual(["'self'", 'blob:']);
  expect(policyOf().get('worker-src')).toEqual(["'self'", 'blob:']);
});

test('the hosted upload service may be reached only when it is set up', () => {
  expect(policyOf().get('connect-src')).toEqual(["'self'"]);
  const hosted = policyOf({ hasHostedUploads: true }).get('connect-src') ?? [];
  expect(hosted).toContain('https://*.ingest.uploadthing.com');
});

test('what only the dev server needs stays there', () => {
  expect(policyOf({ isDev: true }).get('script-src')).toContain("'unsafe-eval'");
  expect(policyOf({ isDev: false }).get('script-src')).not.toContain("'unsafe-eval'");
});

test('a plain http address is not sent to https, which nobody answers there', () => {
  expect(policyOf({ isHttps: false }).has('upgrade-insecure-requests')).toBe(false);
  expect(policyOf({ isHttps: true }).has('upgrade-insecure-requests')).toBe(true);
});
