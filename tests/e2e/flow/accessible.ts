import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';

// WCAG 2.2 A and AA, as far as axe-core 4.13 can see.
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

/** What axe finds on a page, or on the part of it that a selector names. */
export async function faultsOf(page: Page, part?: string): Promise<{ id: string; at: string[] }[]> {
  const axe = new AxeBuilder({ page }).withTags(TAGS);
  const { violations } = await (part ? axe.include(part) : axe).analyze();
  return violations.map(({ id, nodes }) => ({ id, at: nodes.map((node) => node.html.slice(0, 160)) }));
}
