/** Matter told by pattern as well as colour: liquor lies in lines, mash is grain, heat rises. */
export function Patterns({ id }: { id: string }) {
  return (
    <defs>
      <pattern id={`${id}-liquor`} width="14" height="7" patternUnits="userSpaceOnUse">
        <path class="ink liquor" d="M0 3.5H8M11 3.5H14" />
      </pattern>
      <pattern id={`${id}-mash`} width="9" height="9" patternUnits="userSpaceOnUse">
        <circle class="grain mash" cx="2" cy="2" r="0.95" />
        <circle class="grain mash" cx="6.5" cy="6.5" r="0.95" />
      </pattern>
      <pattern id={`${id}-wort`} width="7" height="7" patternUnits="userSpaceOnUse">
        <path class="ink wort" d="M0 7L7 0" />
      </pattern>
      <pattern id={`${id}-heat`} width="6" height="10" patternUnits="userSpaceOnUse">
        <path class="ink heat" d="M3 10V1" />
      </pattern>
    </defs>
  );
}
