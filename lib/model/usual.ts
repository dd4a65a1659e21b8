import type { FactSpec } from "./fact.ts";

/**
 * What a number usually is aboard, in the fact's own unit, both ends included. Outside it an answer is asked for once more, never refused:
 * it is there for slips of unit and of the decimal point. `mark` says whether the figures were read ("read", in the text that `cite`
 * names) or are common practice without a source ("practice"; `cite` then says what the range is drawn around).
 */
export interface Usual {
  readonly at: string;
  readonly from: number;
  readonly to: number;
  readonly cite: string;
  readonly mark: "read" | "practice";
}

// Paragraphs of the trade's own notes: motoring power standards.md §4, delay §3.2; all else has no source there.
const practice = (at: string, from: number, to: number, cite: string): Usual => ({ at, from, to, cite, mark: "practice" });
const read = (at: string, from: number, to: number, cite: string): Usual => ({ at, from, to, cite, mark: "read" });

const OIL_TRIP = "from small engines at idle to medium-speed engines; psi, kPa and MPa fall outside";
const OIL_SENSOR = "common ranges of oil-pressure sensors, 0 to 2.5 bar up to 0 to 25 bar";
const WATER_SENSOR = "common ranges of temperature transmitters, 0 to 100 °C up to 0 to 250 °C";
// Nothing has no tolerance: a zero is a blank filled in.
const PRESSURE_TOLERANCE = "switches and transmitters up to the scatter of 3 psi seen on small sets, and as much again";
const HEAT_TOLERANCE = "from electronic channels to mechanical thermostats";
// The lower end lies over 1 rpm, so that one per cent typed as a speed is asked for once more.
const SPEED_TOLERANCE = "from electronic trips to flyweights, at most about two per cent of 3600 rpm";
const TURBINE_TRIP = "from a gear's output at 900 rpm to a turbine's own shaft at about 6000 rpm, with its margin";
const AIR_FULL = "from air motors at 7 bar to receivers at 40 bar";
const AIR_LOWEST = "from air motors on reducers to direct air start";
const FREE_AIR = "from air motors of small sets to direct air start of the largest auxiliary engines";
const TEETH = "gear rims and phonic wheels";

export const usualRanges: readonly Usual[] = [
  practice("/policy/tachometerError", 0.5, 20, "hand and panel tachometers"),

  // Zero is a fair answer where no consumer starts by itself, and where a ship has no common store.
  practice("/plant/load", 5, 25000, "from a small ship in port to a large passenger ship; MW and W fall outside"),
  practice("/plant/largestStarter", 0, 3000, "pumps, compressors and thrusters; W falls outside"),
  practice("/plant/noise", 70, 120, "from a set under a hood to an engine room well over the usual limit of 110 dB(A)"),
  practice("/plant/start/storedStarts", 0, 40, "several times the six or twelve starts that class rules ask for"),
  practice("/plant/start/receiverVolume", 0.05, 30, "from one small bottle to the main engine's receivers; litres fall outside"),
  practice("/plant/start/fullPressure", 6, 45, `${AIR_FULL}; MPa and psi fall outside`),
  practice("/plant/start/lowestPressure", 3, 25, `${AIR_LOWEST}; MPa falls outside`),
  practice("/plant/start/airPerStart", 0.02, 15, `${FREE_AIR}; litres fall outside`),

  practice("/sets/*/plate/ratedPower", 15, 18000, "marine sets from 15 kW to 18 MW; MW and W fall outside"),
  practice("/sets/*/plate/apparentPower", 18, 24000, "as rated power, at power factors of 0.75 and more"),
  practice("/sets/*/plate/powerFactor", 0.7, 1, "0.8 on most plates, 0.9 and 1 with converters"),
  practice("/sets/*/plate/voltage", 110, 14000, "from 110 V to 13.8 kV; kV falls outside"),
  practice("/sets/*/plate/current", 15, 8000, "from 15 kW at 690 V to about 6 MVA at 450 V; kA falls outside"),
  practice("/sets/*/plate/frequency", 45, 65, "50 or 60 Hz; others only behind a converter"),
  practice("/sets/*/plate/poles", 2, 28, "from 3600 rpm down to about 250 rpm; only generators on a slow shaft have more"),
  practice(
    "/sets/*/plate/ratedSpeed",
    250,
    3600,
    "engines and gear outputs of generating sets; only a slow propulsion engine turns slower",
  ),

  // Zero is a fair answer where the store is in common, or there is no second source.
  practice("/sets/*/start/storedStarts", 0, 30, "several times the six starts that the rules ask for"),
  practice("/sets/*/start/secondStarts", 0, 20, "several times the three starts that the rules ask for"),
  practice(
    "/sets/*/start/receiverVolume",
    0.02,
    12,
    "from a bottle for an air motor to a receiver of the largest sets; litres fall outside",
  ),
  practice("/sets/*/start/fullPressure", 6, 350, `${AIR_FULL}; hydraulic stores up to 5000 psi (345 bar); MPa falls outside`),
  practice("/sets/*/start/lowestPressure", 3, 250, `${AIR_LOWEST}; hydraulic starters up to about 3600 psi in the cold; MPa falls outside`),
  practice("/sets/*/start/airPerStart", 0.02, 15, `${FREE_AIR}; litres fall outside`),
  practice("/sets/*/start/accumulatorVolume", 2, 300, "from one small accumulator to a bank; m³ falls outside"),
  practice("/sets/*/start/precharge", 30, 250, "a third to nine tenths of the usual lowest pressures; MPa falls outside"),
  practice("/sets/*/start/oilPerStart", 0.2, 30, "from starters of 30 kW sets to those of the largest emergency sets"),
  practice("/sets/*/start/batteryCapacity", 40, 1500, "from one 12 V battery to a bank of several"),
  practice("/sets/*/start/crankCurrent", 100, 2500, "from starters of 1.5 kW to two large ones on 24 V"),
  practice("/sets/*/start/crankSeconds", 1, 30, "up to the longest cranking that makers commonly allow"),
  practice("/sets/*/start/fuelTank", 50, 60000, "from 30 kW for six hours to some 3 MW for 36 hours; m³ falls outside"),
  practice("/sets/*/start/fuelPerHour", 3, 1500, "about a quarter of a litre for each kWh, from 15 kW to 5 MW"),

  practice("/sets/*/handStop/count", 0, 6, "control room, outside the space, bridge, fire station"),

  practice("/sets/*/lubeOilPressure/setPoint", 0.3, 4.5, OIL_TRIP),
  practice("/sets/*/lubeOilPressure/tolerance", 0.01, 0.5, PRESSURE_TOLERANCE),
  practice("/sets/*/lubeOilPressure/rangeTo", 2.5, 25, OIL_SENSOR),
  practice("/sets/*/lubeOilAlarm/setPoint", 0.3, 5, OIL_TRIP),
  practice("/sets/*/lubeOilAlarm/tolerance", 0.01, 0.5, PRESSURE_TOLERANCE),
  practice("/sets/*/lubeOilAlarm/rangeTo", 2.5, 25, OIL_SENSOR),

  practice("/sets/*/jacketWaterTemperature/immersion", 15, 400, "from short wetted senders to long wells; inches fall outside"),
  practice("/sets/*/jacketWaterTemperature/diameter", 3, 25, "from sheathed probes to bulbs of thermostats; inches fall outside"),
  practice(
    "/sets/*/jacketWaterTemperature/setPoint",
    65,
    120,
    "from old engines on cool circuits to circuits under pressure; °F falls outside",
  ),
  practice("/sets/*/jacketWaterTemperature/tolerance", 0.2, 8, HEAT_TOLERANCE),
  practice("/sets/*/jacketWaterTemperature/rangeTo", 90, 250, WATER_SENSOR),
  practice("/sets/*/jacketWaterTemperature/ohmsAt25", 200, 100000, "senders of gauges to elements of 100 kΩ; kΩ falls outside"),
  practice("/sets/*/jacketWaterTemperature/beta", 2500, 5000, "common NTC elements"),
  practice("/sets/*/jacketWaterAlarm/setPoint", 60, 115, "some degrees under the stop; °F falls outside"),
  practice("/sets/*/jacketWaterAlarm/tolerance", 0.2, 8, HEAT_TOLERANCE),
  practice("/sets/*/jacketWaterAlarm/rangeTo", 90, 250, WATER_SENSOR),

  // In rpm at the engine; the ends are about 1.1 times the slowest and 1.2 times the fastest rated speed above.
  practice("/sets/*/overspeed/setPoint", 275, 4400, "1.1 to 1.2 times the usual rated speeds; per cent and Hz fall outside"),
  practice("/sets/*/overspeed/tolerance", 2, 80, SPEED_TOLERANCE),
  practice("/sets/*/overspeed/makersMaximum", 275, 4500, "1.1 to 1.25 times the usual rated speeds; per cent and Hz fall outside"),
  practice("/sets/*/overspeed/toothCount", 20, 300, TEETH),
  practice("/sets/*/secondOverspeed/setPoint", 275, 4500, "a little over the first device; per cent and Hz fall outside"),
  practice("/sets/*/secondOverspeed/tolerance", 2, 80, SPEED_TOLERANCE),
  practice("/sets/*/secondOverspeed/toothCount", 20, 300, TEETH),
  practice("/sets/*/airFlap/speed", 300, 2500, "from idle to rated speed of the fast engines that have a flap"),
  practice("/sets/*/turbineOverspeed/setPoint", 950, 7200, TURBINE_TRIP),
  practice("/sets/*/turbineOverspeed/tolerance", 2, 120, "from electronic trips to bolts, at most about two per cent of 6000 rpm"),
  practice("/sets/*/turbineOverspeed/makersMaximum", 950, 7500, TURBINE_TRIP),
  practice("/sets/*/turbineOverspeed/toothCount", 12, 200, TEETH),
  practice("/sets/*/secondTurbineOverspeed/setPoint", 950, 7500, TURBINE_TRIP),
  practice("/sets/*/secondTurbineOverspeed/tolerance", 2, 120, "from electronic trips to bolts, at most about two per cent of 6000 rpm"),
  practice("/sets/*/secondTurbineOverspeed/toothCount", 12, 200, TEETH),

  practice(
    "/sets/*/exhaustPressure/setPoint",
    0.15,
    5,
    "absolute: lost vacuum of condensing sets to high pressure of back-pressure sets; psi and kPa fall outside",
  ),
  practice("/sets/*/exhaustPressure/tolerance", 0.005, 0.3, "from transmitters to bellows"),
  practice("/sets/*/exhaustPressure/rangeTo", 0.5, 10, "absolute transmitters, 0 to 0.6 bar up to 0 to 10 bar"),
  practice("/sets/*/standbyOilPump/setPoint", 0.2, 6, "from bearing oil to control oil; psi and kPa fall outside"),

  practice("/sets/*/bearingTemperature/setPoint", 65, 130, "alarms and stops of plain and rolling bearings; °F falls outside"),
  practice("/sets/*/bearingTemperature/tolerance", 0.2, 8, HEAT_TOLERANCE),
  practice("/sets/*/windingTemperature/setPoint", 90, 190, "alarms and stops of the usual insulation classes; °F falls outside"),
  practice("/sets/*/windingTemperature/tolerance", 0.2, 10, HEAT_TOLERANCE),
  practice("/sets/*/oilMist/bore", 65, 650, "from 15 kW sets to the largest four-stroke engines; cm and inches fall outside"),

  practice(
    "/sets/*/reversePower/pickUp",
    1,
    25,
    "from condensing turbines to land practice above the band of class rules; a share instead of per cent falls outside",
  ),
  read(
    "/sets/*/reversePower/motoringPower",
    1,
    50,
    "protective-relaying textbook, chapter on relay 32 (condensing turbines 1 to 3 %, gas turbines 50 %)",
  ),
  read(
    "/sets/*/reversePower/delay",
    0.5,
    20,
    "TM 55-1930-209-14P-9-2, reverse-power relay of a vessel's plant, adjustable from 0.5 to 20 s",
  ),
  practice("/sets/*/overcurrent/pickUp", 80, 150, "around the 115 % of 46 CFR 111.12-11(d); amperes fall outside"),

  practice("/sets/*/bearingOilPressure/setPoint", 0.15, 4, "from gravity feed to oil of the gear; psi and kPa fall outside"),
  practice("/sets/*/bearingOilPressure/tolerance", 0.01, 0.5, PRESSURE_TOLERANCE),
  practice(
    "/sets/*/shaftTrips/ratio",
    1,
    30,
    "from a generator on the shaft itself to a slow engine's step-up gear; the inverse falls outside",
  ),
  practice("/sets/*/shaftTrips/shaftSpeed", 50, 1800, "from slow two-stroke engines to fast four-stroke engines"),
];

const byTemplate: ReadonlyMap<string, Usual> = new Map(usualRanges.map((usual) => [usual.at, usual]));

/** The usual range of a number fact, by its template; undefined where none is known. */
export const usualOf = (template: string): Usual | undefined => byTemplate.get(template);

/** The range that an answer in the fact's unit falls outside of; undefined where it is within, or no range is known. */
export const unlikely = (spec: FactSpec, value: number): Usual | undefined => {
  const usual = usualOf(spec.at);
  return usual === undefined || (value >= usual.from && value <= usual.to) ? undefined : usual;
};
