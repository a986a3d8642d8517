import {
  Body,
  Button,
  Container,
  Head,
  Heading,
  Html,
  Link,
  Preview,
  Section,
  Text,
} from '@react-email/components';
import type { ReactNode } from 'react';

const text = { fontFamily: 'Verdana, sans-serif', fontSize: '16px', lineHeight: '26px', color: '#1D2729' };
const slab = { fontFamily: 'Rockwell, Georgia, serif', color: '#1D2729' };

/** The frame of every mail: one heading, its sentences, at most one button, and who sent it. */
export function MailFrame(props: {
  title: string;
  /** Absent in a mail about the account itself. */
  programName?: string;
  children: ReactNode;
  action?: { label: string; href: string };
  /** Absent where nothing can be chosen: an invitation, what keeps somebody from harm. */
  choices?: { choicesUrl: string; stopUrl: string } | undefined;
}) {
  return (
    <Html lang="en">
      <Head />
      <Preview>{props.title}</Preview>
      <Body style={{ backgroundColor: '#F5F0E3', margin: 0, padding: '26px 0' }}>
        <Container style={{ maxWidth: '560px', padding: '0 20px' }}>
          <Heading as="h1" style={{ ...slab, fontSize: '27px', lineHeight: '32px' }}>
            {props.title}
          </Heading>
          <Section style={text}>{props.children}</Section>
          {props.action ? (
            <Button
              href={props.action.href}
              style={{
                ...text,
                backgroundColor: '#9E4423',
                color: '#FFFDF6',
                fontWeight: 700,
                padding: '12px 20px',
                borderRadius: '2px',
              }}
            >
              {props.action.label}
            </Button>
          ) : null}
          <Text
            style={{ ...text, fontSize: '14px', lineHeight: '20px', color: '#4A5353', marginTop: '39px' }}
          >
            Sent by Cagepost{props.programName ? ` for ${props.programName}` : ''}. Clips and notes stay on
            the site; they are never in a mail.
          </Text>
          {props.choices ? (
            <Text style={{ ...text, fontSize: '14px', lineHeight: '20px', color: '#4A5353' }}>
              <Link href={props.choices.choicesUrl} style={{ color: '#2B5C86', textDecoration: 'underline' }}>
                Choose which mails come
              </Link>
              {' · '}
              <Link href={props.choices.stopUrl} style={{ color: '#2B5C86', textDecoration: 'underline' }}>
                No more mails of this kind
              </Link>
            </Text>
          ) : null}
        </Container>
      </Body>
    </Html>
  );
}
