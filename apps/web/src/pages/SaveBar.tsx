import type { Complaint } from './checks.ts';

interface Props {
  readonly what: string;
  readonly touched: boolean;
  /** Fields whose text cannot be read. */
  readonly unread: number;
  readonly problems: readonly Complaint[];
  readonly onSave: () => void;
  readonly onDrop: () => void;
  readonly onRetire: () => void;
}

/** What stands in the way of saving, and the saving. */
export function SaveBar({ what, touched, unread, problems, onSave, onDrop, onRetire }: Props) {
  return (
    <>
      <Complaints list={problems} head={`This ${what} cannot be:`} />
      <div class="savebar">
        <button
          type="button"
          class="btn solid"
          disabled={!touched || unread > 0 || problems.length > 0}
          onClick={onSave}
        >
          Save {what}
        </button>
        {touched && (
          <button type="button" class="btn" onClick={onDrop}>
            Undo changes
          </button>
        )}
        <span class="soft" role="status">
          {unread > 0
            ? `${unread === 1 ? 'One field' : `${unread} fields`} cannot be read yet`
            : touched
              ? 'Not saved; kept on this device'
              : 'Saved'}
        </span>
        <span class="grow" />
        <button type="button" class="btn plain" onClick={onRetire}>
          Put {what} away
        </button>
      </div>
    </>
  );
}

/** A list of errors, each naming field, value, range and what to do. */
export function Complaints({ list, head }: { list: readonly Complaint[]; head: string }) {
  if (list.length === 0) return null;
  return (
    <div class="wrong block" role="alert">
      <b>{head}</b>
      <ul>
        {list.map((c) => (
          <li key={`${c.field}${c.message}`}>{c.message}</li>
        ))}
      </ul>
    </div>
  );
}
