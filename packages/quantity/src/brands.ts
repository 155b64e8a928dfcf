/**
 * Numbers that remember what they are.
 *
 * A branded number is still a plain number at run time and may be passed wherever `number` is
 * wanted; only the other direction is refused. The engine works on plain numbers with the unit in
 * the name (`tempC`); brands stand at the edges and where a mix-up has bitten brewers before:
 * a temperature against a temperature difference, per cent by weight against grams per 100 mL.
 */
export type Quantity<U extends string> = number & { readonly unit: U };

/** Temperature, °C. */
export type Celsius = Quantity<'degC'>;
/** Temperature difference, K. 5 °F of difference is 2.78 K; 5 °F of temperature is -15 °C. */
export type KelvinDifference = Quantity<'K difference'>;
/** Volume, L. Says nothing about the temperature it was read at. */
export type Litres = Quantity<'L'>;
/** Mass, kg. */
export type Kilograms = Quantity<'kg'>;
/** Time span, min. */
export type Minutes = Quantity<'min'>;
/** Power, kW. */
export type Kilowatts = Quantity<'kW'>;
/** Pressure, kPa; gauge or absolute is the field's to say. */
export type Kilopascals = Quantity<'kPa'>;
/** Length or height, m. */
export type Metres = Quantity<'m'>;
/** Energy, kWh. */
export type KilowattHours = Quantity<'kWh'>;
/** Liquor to grist, L/kg. */
export type LitresPerKilogram = Quantity<'L/kg'>;
/** Extract, per cent by weight (g per 100 g). */
export type Plato = Quantity<'degP'>;
/** Extract, grams in 100 mL at 20 °C (w/v). Never equal to °P for wort. */
export type GramsPer100mL = Quantity<'g/100mL'>;
/** Specific gravity 20/20 °C in air. */
export type SpecificGravity = Quantity<'SG 20/20'>;
/** Time of day, minutes since midnight, 0 to 1439. */
export type ClockMinutes = Quantity<'min since midnight'>;

export const celsius = (n: number): Celsius => n as Celsius;
export const kelvinDifference = (n: number): KelvinDifference => n as KelvinDifference;
export const litres = (n: number): Litres => n as Litres;
export const kilograms = (n: number): Kilograms => n as Kilograms;
export const minutes = (n: number): Minutes => n as Minutes;
export const kilowatts = (n: number): Kilowatts => n as Kilowatts;
export const kilopascals = (n: number): Kilopascals => n as Kilopascals;
export const metres = (n: number): Metres => n as Metres;
export const plato = (n: number): Plato => n as Plato;
export const gramsPer100mL = (n: number): GramsPer100mL => n as GramsPer100mL;
export const specificGravity = (n: number): SpecificGravity => n as SpecificGravity;

/** A temperature moved by a difference. */
export function warmer(t: Celsius, by: KelvinDifference): Celsius {
  return (t + by) as Celsius;
}

/** How much warmer `to` is than `from`. */
export function rise(from: Celsius, to: Celsius): KelvinDifference {
  return (to - from) as KelvinDifference;
}
