/** Takes a thing out of the kit. */
export function Remove({ name, onRemove }: { name: string; onRemove: () => void }) {
  return (
    <button type="button" class="btn plain" aria-label={`Take away ${name}`} onClick={onRemove}>
      Take away
    </button>
  );
}
