import { redirect } from 'next/navigation';
import { getViewer } from '@/app/_server/viewer';
import { isStaff } from '@/lib/domain/people/viewer';

/** The front door leads everybody to their own first page. */
export default async function FrontPage() {
  const viewer = await getViewer();
  if (!viewer) redirect('/sign-in');
  redirect(isStaff(viewer) ? '/desk' : '/lessons');
}
