import { expect, test } from '@playwright/test';
import { ROUTES } from '../../support/route-rows';

const NOBODY = '00000000-0000-7000-8000-000000000000';

const routes = Object.entries(ROUTES).map(([file, route]) => ({
  file,
  route,
  path: route.path.replace('ID', NOBODY),
  method: route.kind === 'api' ? route.method : 'GET',
}));
const open = routes.flatMap(({ route, ...one }) => (route.kind === 'open' ? [{ ...one, ...route }] : []));
const pages = routes.filter(({ route }) => route.kind === 'page');
const calls = routes.filter(({ route }) => route.kind === 'api');
const sameOrigin = (baseURL = '') => ({ origin: baseURL, 'sec-fetch-site': 'same-origin' });

for (const { file, path, withoutKey } of open) {
  test(`${file} is open to everybody`, async ({ request }) => {
    const status = (await request.get(path, { maxRedirects: 0 })).status();
    expect(withoutKey ? [withoutKey] : [200, 302, 303, 307]).toContain(status);
  });
}

for (const { file, path } of pages) {
  test(`${file} leads people without a session to the sign-in`, async ({ request }) => {
    const answer = await request.get(path, { maxRedirects: 0 });
    // A page that has begun to stream cannot change its status any more: then it carries the redirect inside.
    expect(answer.headers()['location'] ?? (await answer.text())).toContain('/sign-in');
  });
}

for (const { file, path, method } of calls) {
  test(`${file} refuses people without a session`, async ({ request, baseURL }) => {
    const answer = await request.fetch(path, { method, maxRedirects: 0, headers: sameOrigin(baseURL) });
    expect([400, 401, 403, 404, 405]).toContain(answer.status());
  });
}
