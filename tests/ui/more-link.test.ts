import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, test } from 'vitest';
import { MoreLink, type PageQuery } from '@/app/_ui/more-link';

const linkOf = (next: string | null, query?: PageQuery) =>
  /href="([^"]+)"/
    .exec(
      renderToStaticMarkup(
        createElement<Parameters<typeof MoreLink>[0]>(MoreLink, {
          ...{ page: '/people', list: 'staff', next, children: 'More' },
          ...(query ? { query } : {}),
        }),
      ),
    )?.[1]
    ?.replaceAll('&amp;', '&');

test('leads to the next page of its list and keeps where the other lists are', () => {
  expect(linkOf('b_2')).toBe('/people?staff=b_2#staff');
  expect(linkOf('b 2&x', { staff: 'a_1', players: 'c_3', find: undefined, twice: ['1', '2'] })).toBe(
    '/people?staff=b+2%26x&players=c_3#staff',
  );
});
test('is not there at the end of a list', () => {
  expect(linkOf(null, { staff: 'a_1' })).toBeUndefined();
});
