/** Takes a thing out of the kit. */
export function Remove({ name, onRemove }: { name: string; onRemove: () => void }) {
  return (
    <button type="button" class="btn plain" aria-label={`Take ${name} away`} onClick={onRemove}>
      Take away
    </button>
  );
}
