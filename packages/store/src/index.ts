export { type OpenError, type OpenOutcome, openStore } from './open.ts';
export type {
  AppendOutcome,
  BackupOutcome,
  EventOutcome,
  EventStore,
  Integrity,
  KeptSpan,
  NotSaved,
  ReadingStore,
  SinceOptions,
  StoredEvent,
  StreamInfo,
} from './store.ts';
