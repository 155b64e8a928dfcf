/** A file of prices: what malt, hands and heat cost, and what changes of kit are on offer for how much. */
import type { Offer, PriceList } from '@ladlework/planner';
import * as v from 'valibot';
import { PriceListSchema } from './brew-file.ts';
import { fieldErrors } from './errors.ts';
import { few, measure, plain, quantity, sheet, shortId } from './fields.ts';
import type { Parsed } from './parse.ts';

const KitChange = v.variant('what', [
  sheet({
    what: v.literal('burner-power'),
    burner: shortId(),
    ratedKW: quantity('power', 0.2, 500),
  }),
  sheet({ what: v.literal('pot-volume'), vessel: shortId(), brimL: quantity('volume', 1, 20_000) }),
  sheet({
    what: v.literal('insulation'),
    vessel: shortId(),
    lossWK: measure('heatLoss', 0, 500),
  }),
  sheet({ what: v.literal('second-pot'), like: shortId() }),
  sheet({ what: v.literal('pump'), litresPerMin: measure('flow', 1, 500) }),
  sheet({ what: v.literal('jacket'), vessel: shortId(), netKW: quantity('power', 0.2, 500) }),
  sheet({ what: v.literal('helper') }),
  sheet({ what: v.literal('altitude'), altitudeM: quantity('length', -500, 5000) }),
  sheet({ what: v.literal('batch-size'), factor: plain(0.2, 5) }),
]);

const PricesFileSchema = sheet({
  prices: v.exactOptional(PriceListSchema),
  offers: v.exactOptional(
    few(
      sheet({
        change: KitChange,
        price: v.exactOptional(plain(0, 1e7)),
        perBrew: v.exactOptional(plain(0, 1e5)),
      }),
      1,
      20,
    ),
  ),
});

export interface PricesFile {
  readonly prices?: PriceList;
  readonly offers?: readonly Offer[];
}

/**
 * Checks a file of prices.
 *
 * @param json parsed JSON; quantities as numbers in SI or text with a unit
 * @returns prices and offers, or every mistake found
 */
export function parsePricesFile(json: unknown): Parsed<'file', PricesFile> {
  const parsed = v.safeParse(PricesFileSchema, json);
  if (parsed.success) return { ok: true, file: parsed.output };
  return { ok: false, errors: fieldErrors(json, parsed.issues) };
}
