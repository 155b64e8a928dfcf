/** Parts of a plan document by name. The kit's types live in a room this one does not look into. */
import type { PlanDocument } from '@ladlework/planner';

export type Kit = PlanDocument['kit'];
export type Vessel = Kit['vessels'][number];
export type Burner = Kit['burners'][number];
