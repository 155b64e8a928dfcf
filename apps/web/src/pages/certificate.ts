import type { MaltCertificate } from '@ladlework/planner';

/** What a certificate prints, with the range in which a figure can be true. */
export const CERTIFICATE: readonly {
  key: keyof MaltCertificate;
  label: string;
  unit: string;
  min: number;
  max: number;
}[] = [
  { key: 'moisturePct', label: 'Moisture', unit: '%', min: 0, max: 15 },
  { key: 'extractFinePct', label: 'Extract, fine, dry', unit: '%', min: 40, max: 90 },
  { key: 'extractCoarsePct', label: 'Extract, coarse, dry', unit: '%', min: 40, max: 90 },
  { key: 'colourEbc', label: 'Colour', unit: 'EBC', min: 0, max: 2000 },
  { key: 'proteinPct', label: 'Protein', unit: '%', min: 5, max: 20 },
  { key: 'kolbachPct', label: 'Kolbach index', unit: '%', min: 20, max: 60 },
  { key: 'diastaticWk', label: 'Diastatic power', unit: '°WK', min: 0, max: 800 },
  { key: 'alphaDu', label: 'Alpha-amylase', unit: 'DU', min: 0, max: 150 },
  { key: 'viscosityMPas', label: 'Viscosity, 8.6 %', unit: 'mPa s', min: 1.2, max: 3 },
  { key: 'friabilityPct', label: 'Friability', unit: '%', min: 0, max: 100 },
  { key: 'betaGlucanMgL', label: 'Beta-glucan', unit: 'mg/L', min: 0, max: 2000 },
  { key: 'vz45Pct', label: 'VZ 45 °C', unit: '%', min: 20, max: 60 },
  { key: 'fanMgL', label: 'Free amino nitrogen', unit: 'mg/L', min: 0, max: 500 },
];

/** What the certificate calls a figure, in the middle of a sentence; names and initials stay. */
export function fieldLabel(field: string): string {
  const label = CERTIFICATE.find((f) => f.key === field)?.label ?? field;
  if (/^(Kolbach|[A-Z]{2})/.test(label)) return label;
  return label.charAt(0).toLowerCase() + label.slice(1);
}
