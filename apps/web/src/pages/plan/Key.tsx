interface Props {
  readonly name: string;
  readonly value: string;
  readonly note: string;
}

/** One figure of a `keys` list. */
export function Key({ name, value, note }: Props) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        <b>{value}</b>
        <span>{note}</span>
      </dd>
    </div>
  );
}
