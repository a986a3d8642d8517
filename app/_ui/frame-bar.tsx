import type { ReactNode } from 'react';
import type { PageFrame } from '@/app/_server/page-frame';
import { TopBar, type Place } from './top-bar';

type Props = {
  frame: Pick<PageFrame, 'program' | 'roles' | 'personName' | 'unread'>;
  current?: Place | 'account' | 'notices';
  isReading?: boolean;
  children?: ReactNode;
};

/** The top bar of a signed-in page: what it needs of the viewer stands in the page's frame. */
export const FrameBar = ({ frame, ...rest }: Props) => (
  <TopBar
    programName={frame.program.name}
    roles={frame.roles}
    personName={frame.personName}
    unread={frame.unread}
    {...rest}
  />
);
