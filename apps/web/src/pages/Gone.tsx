/** For an address whose thing this device does not know (yet). */
export function Gone({ what, back }: { what: string; back: string }) {
  return (
    <div class="head">
      <div>
        <h1>This {what} is not on this device</h1>
        <p>
          It may not have been sent here yet, or it was put away.{' '}
          <a href={back}>Back to the list</a>
        </p>
      </div>
    </div>
  );
}
