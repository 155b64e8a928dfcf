/** A name and its figure on one line of a list. */
export function Fact({ name, value, note }: { name: string; value: string; note?: string }) {
  return (
    <div>
      <dt>
        {name}
        {note !== undefined && <small>{note}</small>}
      </dt>
      <dd>{value}</dd>
    </div>
  );
}
