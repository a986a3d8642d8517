import { Body, Button, Container, Head, Heading, Html, Preview, Text } from '@react-email/components';
import { render } from '@react-email/render';
import type { ReactElement, ReactNode } from 'react';

/** A mail as the Mailer port sends it, without its address. */
export interface Letter {
  subject: string;
  text: string;
  html: string;
}

// The scorebook's paper, ink and clay; fonts that every mail program has, since none is fetched.
const font = 'Verdana, "Segoe UI", sans-serif';
const style = {
  body: { backgroundColor: '#F5F0E3', margin: 0, padding: '26px 0', fontFamily: font },
  page: { maxWidth: '520px', padding: '0 20px' },
  heading: { color: '#1D2729', fontFamily: 'Rockwell, Georgia, serif', fontSize: '26px', lineHeight: '32px' },
  text: { color: '#1D2729', fontSize: '16px', lineHeight: '26px' },
  soft: { color: '#4A5353', fontSize: '14px', lineHeight: '20px' },
  button: {
    backgroundColor: '#9E4423',
    borderRadius: '2px',
    color: '#FFFDF6',
    fontSize: '17px',
    fontWeight: 700,
    padding: '14px 22px',
  },
} as const;

export const Line = ({ children }: { children: ReactNode }) => <Text style={style.text}>{children}</Text>;
export const SmallLine = ({ children }: { children: ReactNode }) => (
  <Text style={style.soft}>{children}</Text>
);
export const Act = ({ href, children }: { href: string; children: ReactNode }) => (
  <Button href={href} style={style.button}>
    {children}
  </Button>
);

/** The page that every mail is written on. `preview` is the line that a mailbox shows beside the subject. */
export const Paper = ({
  title,
  preview,
  children,
}: {
  title: string;
  preview: string;
  children: ReactNode;
}) => (
  <Html lang="en">
    <Head />
    <Preview>{preview}</Preview>
    <Body style={style.body}>
      <Container style={style.page}>
        <Heading as="h1" style={style.heading}>
          {title}
        </Heading>
        {children}
      </Container>
    </Body>
  </Html>
);

/** Renders a mail as HTML and as plain text that says the same. */
export async function letter(subject: string, page: ReactElement): Promise<Letter> {
  const [html, text] = await Promise.all([render(page), render(page, { plainText: true })]);
  return { subject, html, text };
}
