/** The probes of a server: their memory, their tokens, and MQTT where it is switched on. */
import { openBroker } from './broker.ts';
import { joinHouseBroker } from './house-broker.ts';
import { Probes, type ProbesDeps } from './probes.ts';
import type { MqttSettings } from './settings.ts';
import { ProbeTokens } from './tokens.ts';

/** What the kit page tells of MQTT. */
export interface MqttPlaces {
  /** Port of our own broker, when it is on. */
  readonly port?: number;
  /** The house's broker, when we listen there. */
  readonly house?: { readonly url: string; readonly connected: boolean };
}

export interface StartedProbes {
  readonly probes: Probes;
  readonly tokens: ProbeTokens;
  readonly mqtt: () => MqttPlaces;
  close(): Promise<void>;
}

/**
 * @param secretPath file of the tokens' secret
 * @param settings MQTT; off when empty
 * @param problems told to the operator; a broker that does not open stops nothing else
 */
export async function startProbes(
  deps: ProbesDeps,
  secretPath: string,
  settings: MqttSettings,
  problems: string[],
): Promise<StartedProbes> {
  const probes = new Probes(deps);
  const tokens = new ProbeTokens(secretPath);
  const tried = async <T>(what: string, open: () => Promise<T>): Promise<T | undefined> => {
    try {
      return await open();
    } catch (thrown) {
      problems.push(`${what}: ${thrown instanceof Error ? thrown.message : String(thrown)}.`);
      return undefined;
    }
  };
  const { own, house } = settings;
  const broker =
    own &&
    (await tried('The MQTT broker did not open', () =>
      openBroker(own, { ...deps, probes, tokens }),
    ));
  const joined =
    house &&
    (await tried('The house’s MQTT broker cannot be joined', () =>
      joinHouseBroker(house, { ...deps, probes }),
    ));
  return {
    probes,
    tokens,
    mqtt: () => ({
      ...(broker && { port: broker.port }),
      ...(house && joined && { house: { url: house.url, connected: joined.connected() } }),
    }),
    close: async () => {
      await joined?.close();
      await broker?.close();
      await probes.close();
    },
  };
}
