import { expect, test } from '@playwright/test';
import { ROUTES } from '../../support/route-rows';

const NOBODY = '00000000-0000-7000-8000-000000000000';

for (const [file, route] of Object.entries(ROUTES)) {
  const path = route.path.replace('ID', NOBODY);
  test(`${file} without a session`, async ({ request, baseURL }) => {
    const method = route.kind === 'api' ? route.method : 'GET';
    const headers = { origin: baseURL ?? '', 'sec-fetch-site': 'same-origin' };
    const answer = await request.fetch(path, { method, maxRedirects: 0, headers });
    if (route.kind === 'open') expect(answer.status()).toBeLessThan(400);
    else if (route.kind === 'page') {
      // A page that has begun to stream cannot change its status any more: then it carries the redirect inside.
      const to = answer.headers()['location'] ?? (await answer.text());
      expect(to).toContain('/sign-in');
    } else expect([400, 401, 403, 404, 405]).toContain(answer.status());
  });
}
