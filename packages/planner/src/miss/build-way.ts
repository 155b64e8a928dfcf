/** From a miss and the name of a way out to the moves it is made of, or why it cannot be. */
import { UnknownName } from '../day.ts';
import { type Built, Ground, type Refused, type WayExtras } from './ground.ts';
import type { Miss } from './miss-types.ts';
import type { Standing } from './rest-of-day.ts';
import type { WayCode } from './way-types.ts';
import { mendInTun, restOtherwise, sideMash } from './ways-in-tun.ts';
import { brewLess, finishBy, returnNow } from './ways-to-finish.ts';
import { carryByHand, goOnAlone, otherBurner, putRightFirst } from './ways-with-kit.ts';

/** How much a rest is stretched when nothing computed says how much [min]. Our judgement. */
const STRETCH_MIN = 15;

/**
 * The moves of a way.
 * @param standing where the day stands
 * @param miss what went wrong
 * @param code which way
 * @returns the moves, or a reason in words for the brewer
 */
export function buildWay(
  standing: Standing,
  miss: Miss,
  code: WayCode,
  extras: WayExtras = {},
): Built | Refused {
  const way = new Ground(standing, miss, extras);
  try {
    return built(way, code);
  } catch (error) {
    // A later pull without a burner, or a route that is gone, is a way that cannot be gone.
    if (error instanceof UnknownName) return { text: way.named, whyNot: error.message };
    throw error;
  }
}

function built(way: Ground, code: WayCode): Built | Refused {
  switch (code) {
    case 'go-on':
      return goOn(way);
    case 'last-of-reserve':
    case 'boiling-liquor':
    case 'cold-liquor':
    case 'small-pull':
    case 'direct-heat':
      return mendInTun(way, code);
    case 'longer-rest':
      return restOtherwise(way, way.extras.clearMin ?? STRETCH_MIN);
    case 'shorter-rest':
      return restOtherwise(way, -1);
    case 'side-mash':
      return sideMash(way);
    case 'return-now':
      return returnNow(way);
    case 'infusion':
      return finishBy(way, { by: 'liquor' });
    case 'heat-on':
      return finishBy(way, { by: 'direct-heat' });
    case 'by-hand':
      return carryByHand(way);
    case 'other-burner':
      return otherBurner(way);
    case 'wait':
      return putRightFirst(way);
    case 'smaller-brew':
      return brewLess(way);
  }
}

function goOn(way: Ground): Built | Refused {
  if (way.miss.code === 'helper-gone') return goOnAlone(way);
  const text =
    way.miss.code === 'scorched'
      ? 'Half fire, stir without a break, do not scrape the bottom'
      : 'Go on as it is';
  return way.assemble(text, []);
}
