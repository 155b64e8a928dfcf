/** What is printed when the server has started: one place for `npm start` and `ladlework serve`. */
import type { RunningServer } from './server.ts';

/**
 * @param data folder of the log, as shown
 * @returns lines for the people at the server
 */
export function announcement({ url, pairing }: RunningServer, data: string): string[] {
  const where = `(log in ${data}; end with Ctrl-C)`;
  if (pairing === undefined) return [`Ladlework is at ${url} ${where}`];
  const { codes, fingerprint, trustUrl, urls } = pairing;
  const spaced = (code: string) => `${code.slice(0, 5)} ${code.slice(5)}`;
  return [
    `Ladlework is at ${urls[0]} ${where}`,
    ...urls.slice(1).map((other) => `             or ${other}`),
    ...(fingerprint === undefined
      ? [`Tablets and phones pair at ${url}/pair`]
      : [
          `Tablets and phones begin at ${trustUrl}`,
          `  there they fetch the certificate with this fingerprint (SHA-256):`,
          `  ${fingerprint.slice(0, 39)}`,
          `  ${fingerprint.slice(40)}`,
        ]),
    `Codes for pairing, until the next start:`,
    `  brewer ${spaced(codes.brewer)}   helper ${spaced(codes.helper)}   viewer ${spaced(codes.viewer)}`,
  ];
}
