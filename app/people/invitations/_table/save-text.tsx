'use client';

type Props = { label: string; name: string; text: string };

/** Saves a table as a file. With a byte order mark, so that table programs read every letter. */
export const SaveText = ({ label, name, text }: Props) => {
  const save = () => {
    const url = URL.createObjectURL(new Blob(['\uFEFF', text], { type: 'text/csv;charset=utf-8' }));
    const link = document.createElement('a');
    link.href = url;
    link.download = name;
    link.click();
    URL.revokeObjectURL(url);
  };
  return (
    <button type="button" className="linklike" onClick={save}>
      {label}
    </button>
  );
};
