export { FAULTS, type Fault, type FaultName, surpriseFaults } from './faults.ts';
export {
  type Rehearsal,
  type RehearsedFault,
  type RehearsedReturn,
  type RehearseOptions,
  rehearse,
} from './rehearse.ts';
