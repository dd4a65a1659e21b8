import { ambientPressure, boilingPoint, saturationPressure } from "../../figures/boiling.ts";
import { loopCurrent, loopState, loopValue } from "../../figures/currentLoop.ts";
import { heatSource } from "../../figures/heatSource.ts";
import { pickupFrequency, pickupSpeed } from "../../figures/pickup.ts";
import { platinumResistance, platinumTemperature, platinumTolerance } from "../../figures/platinum.ts";
import { ratiometricValue, ratiometricVoltage } from "../../figures/ratiometric.ts";
import { thermistorResistance, thermistorTemperature } from "../../figures/thermistor.ts";
import { thermocoupleTemperature, thermocoupleVoltage } from "../../figures/thermocouple.ts";
import { ARITHMETIC, amount, choice, outcome, outcomes, read, whole } from "./build.ts";
import type { FigurePage, Input } from "./types.ts";

const SIGNAL_CAUTION =
  "A signal fed in blinds the channel: on a running set an independent reading is watched, and somebody stands at the hand stop. The signal at the plug proves no sensing element.";

const ZERO_CELSIUS_K = 273.15;

const PLATINUM = ["Pt100", "Pt1000"] as const;
const CLASSES = ["AA", "A", "B", "C"] as const;
const BUILT = ["wire-wound", "film"] as const;
const COUPLES = ["K", "J"] as const;
const element: Input = choice(
  "element",
  "Element",
  PLATINUM.map((kind) => [kind, kind]),
);
const couple: Input = choice(
  "type",
  "Type",
  COUPLES.map((kind) => [kind, `type ${kind}`]),
);
const junction: Input = amount("cold", "Temperature of the terminals", "°C", { hint: "Where the couple ends and copper begins" });
const range: readonly Input[] = [
  amount("lower", "Lower end of the range"),
  amount("upper", "Upper end of the range", undefined, { hint: "In the same unit" }),
];
const beta: readonly Input[] = [amount("ohmsAt25", "Resistance at 25 °C", "Ω"), amount("beta", "Beta in kelvin")];
const coefficients: readonly Input[] = [amount("a", "Coefficient a"), amount("b", "Coefficient b"), amount("c", "Coefficient c")];

/** What a receiver makes of a current, in a sentence. */
const STATES = {
  failure: "The receiver takes it for a failure of sensor or wire.",
  undefined: "It lies between failure and measuring range: what the receiver makes of it is not laid down.",
  saturated: "The signal stands beyond its range; the receiver still takes it for a value.",
  measuring: "The receiver takes it for a value.",
} as const;

const IF97 = read("IAPWS-IF97, region 4");
const IEC = read("IEC 60751", undefined, "coefficients of 2008, classes of 2022");
const NIST = read("NIST SRD 60, ITS-90");

export const sensorPages: readonly FigurePage[] = [
  {
    id: "platinum",
    name: "platinum resistance thermometers",
    says: "Resistance that stands for a temperature, the way back, and by how much an element may itself be off.",
    caution: SIGNAL_CAUTION,
    sources: [IEC],
    sums: [
      {
        id: "resistance",
        title: "Resistance at a temperature",
        formula: [
          "R = R0 × (1 + A × t + B × t²) from 0 °C; below it also + C × (t − 100) × t³",
          "R0 100 Ω or 1000 Ω; A 3.9083 × 10⁻³; B −5.775 × 10⁻⁷; C −4.183 × 10⁻¹²",
        ],
        inputs: [element, amount("temperature", "Temperature", "°C")],
        work: (given) =>
          outcomes(platinumResistance(given.one("element", PLATINUM), given.number("temperature")), (ohms) => [
            outcome("resistance", ohms, "Ω", 3, "A decade box set to this stands for the temperature."),
          ]),
        example: {
          given: { element: "Pt100", temperature: "95 °C" },
          gives: [["resistance", 136.61, 0.005]],
          source: "published table of IEC 60751, printed to 0.01 Ω",
        },
      },
      {
        id: "temperature",
        title: "Temperature of a resistance",
        formula: ["the same equation solved for t"],
        inputs: [element, amount("ohms", "Resistance", "Ω")],
        work: (given) =>
          outcomes(platinumTemperature(given.one("element", PLATINUM), given.number("ohms")), (celsius) => [
            outcome("temperature", celsius, "°C", 3),
          ]),
        example: {
          given: { element: "Pt100", ohms: "138.51 Ω" },
          gives: [["temperature", 100.012, 0.0005]],
          source: "rtd-sensor 0.7.0, to 0.001 °C",
        },
      },
      {
        id: "tolerance",
        title: "Tolerance of an element",
        formula: ["AA ± (0.1 + 0.0017 × |t|); A ± (0.15 + 0.002 × |t|); B ± (0.3 + 0.005 × |t|); C ± (0.6 + 0.01 × |t|) °C"],
        inputs: [
          choice(
            "class",
            "Class",
            CLASSES.map((one) => [one, `class ${one}`]),
          ),
          choice("built", "Built as", [
            ["wire-wound", "wire-wound"],
            ["film", "film"],
          ]),
          amount("temperature", "Temperature", "°C"),
        ],
        work: (given) =>
          outcomes(platinumTolerance(given.one("class", CLASSES), given.number("temperature"), given.one("built", BUILT)), (celsius) => [
            outcome(
              "tolerance in °C, either way",
              celsius,
              undefined,
              4,
              "Of the element alone. It is not the tolerance of the set point.",
            ),
          ]),
        example: {
          given: { class: "AA", built: "wire-wound", temperature: "95 °C" },
          gives: [["tolerance in °C, either way", 0.2615, 1e-9]],
          source: "IEC 60751:2022 as read in rtd-sensor 0.7.0",
        },
      },
    ],
  },
  {
    id: "thermocouple",
    name: "thermocouples",
    says: "Voltage that stands for a temperature with the terminals at theirs, and the way back.",
    caution: SIGNAL_CAUTION,
    sources: [NIST],
    sums: [
      {
        id: "voltage",
        title: "Voltage at a temperature",
        formula: ["E = E(hot) − E(terminals), E the reference function of the type"],
        inputs: [couple, amount("hot", "Temperature at the hot junction", "°C"), junction],
        work: (given) =>
          outcomes(thermocoupleVoltage(given.one("type", COUPLES), given.number("hot"), given.number("cold")), (millivolts) => [
            outcome(
              "voltage",
              millivolts,
              "mV",
              4,
              "Where the source compensates for the terminals itself, it is set to the temperature instead.",
            ),
          ]),
        example: {
          given: { type: "K", hot: "95 °C", cold: "25 °C" },
          gives: [["voltage", 2.889, 0.00005]],
          source: "thermocouple-its90 1.0.2",
        },
      },
      {
        id: "temperature",
        title: "Temperature of a voltage",
        formula: ["the same function solved for the hot junction"],
        inputs: [couple, amount("millivolts", "Voltage read", "mV"), junction],
        work: (given) =>
          outcomes(thermocoupleTemperature(given.one("type", COUPLES), given.number("millivolts"), given.number("cold")), (celsius) => [
            outcome("temperature", celsius, "°C", 3),
          ]),
        example: {
          given: { type: "K", millivolts: "4.096 mV", cold: "25 °C" },
          gives: [["temperature", 124.30995, 0.0005]],
          source: "published example of thermocouple-its90",
        },
      },
    ],
  },
  {
    id: "thermistor",
    name: "thermistors",
    says: "Resistance of an NTC element at a temperature, and the way back, by what its maker states.",
    caution: SIGNAL_CAUTION,
    sources: [read("beta and Steinhart–Hart equations"), ARITHMETIC],
    sums: [
      {
        id: "resistance",
        title: "Resistance by beta",
        formula: ["R = R25 × e^(β × (1 ÷ T − 1 ÷ 298.15)), T in kelvin"],
        inputs: [...beta, amount("temperature", "Temperature", "°C")],
        work: (given) =>
          outcomes(
            thermistorResistance(
              { kind: "beta", ohmsAt25: given.number("ohmsAt25"), beta: given.number("beta") },
              given.number("temperature"),
            ),
            (ohms) => [outcome("resistance", ohms, "Ω", 1)],
          ),
        example: {
          given: { ohmsAt25: "10000 Ω", beta: "3950", temperature: "95 °C" },
          gives: [["resistance", 805.4, 0.0501]],
          source: "worked from the beta equation for this figure",
        },
      },
      {
        id: "temperature",
        title: "Temperature by beta",
        formula: ["1 ÷ T = 1 ÷ 298.15 + ln(R ÷ R25) ÷ β"],
        inputs: [...beta, amount("ohms", "Resistance", "Ω")],
        work: (given) =>
          outcomes(
            thermistorTemperature({ kind: "beta", ohmsAt25: given.number("ohmsAt25"), beta: given.number("beta") }, given.number("ohms")),
            (celsius) => [outcome("temperature", celsius, "°C", 2)],
          ),
        example: {
          given: { ohmsAt25: "10000 Ω", beta: "3950", ohms: "1000 Ω" },
          gives: [["temperature", 87.72, 0.005]],
          source: "worked from the beta equation for this figure",
        },
      },
      {
        id: "coefficients",
        title: "Temperature by three coefficients",
        formula: ["1 ÷ T = a + b × ln R + c × (ln R)³"],
        inputs: [...coefficients, amount("ohms", "Resistance", "Ω")],
        work: (given) =>
          outcomes(
            thermistorTemperature(
              { kind: "steinhart-hart", a: given.number("a"), b: given.number("b"), c: given.number("c") },
              given.number("ohms"),
            ),
            (celsius) => [outcome("temperature", celsius, "°C", 2)],
          ),
        example: {
          given: { a: "0.001129148", b: "0.000234125", c: "0.0000000876741", ohms: "5326 Ω" },
          gives: [["temperature", 40, 0.0051]],
          source: "published 10 kΩ table by its stated coefficients",
        },
      },
    ],
  },
  {
    id: "currentLoop",
    name: "current loops, 4 to 20 mA",
    says: "Current that stands for a value, the way back, and what a receiver makes of it.",
    caution: SIGNAL_CAUTION,
    sources: [read("NAMUR NE 43", undefined, "secondary pages"), ARITHMETIC],
    sums: [
      {
        id: "current",
        title: "Current for a value",
        formula: ["I = 4 + 16 × (x − lower) ÷ (upper − lower)"],
        inputs: [...range, amount("value", "Value", undefined, { hint: "In the same unit" })],
        work: (given) =>
          outcomes(loopCurrent(given.number("value"), { lower: given.number("lower"), upper: given.number("upper") }), (milliamps) => [
            outcome("current", milliamps, "mA", 4, STATES[loopState(milliamps)]),
          ]),
        example: {
          given: { lower: "3", upper: "11", value: "9.32" },
          gives: [["current", 16.64, 0.00005]],
          source: "published worked example of instrumentationtools.com",
        },
      },
      {
        id: "value",
        title: "Value of a current",
        formula: ["x = lower + (I − 4) ÷ 16 × (upper − lower)"],
        inputs: [...range, amount("current", "Current", "mA")],
        work: (given) =>
          outcomes(loopValue(given.number("current"), { lower: given.number("lower"), upper: given.number("upper") }), (value) => [
            outcome("value", value, undefined, 3, STATES[loopState(given.number("current"))]),
          ]),
        example: {
          given: { lower: "50", upper: "250", current: "12 mA" },
          gives: [["value", 150, 1e-3]],
          source: "published worked example of blog.isa.org",
        },
      },
    ],
  },
  {
    id: "ratiometric",
    name: "ratiometric sensors",
    says: "Voltage of a sensor that gives a share of its supply, and the way back. The supply is measured, not assumed.",
    caution: SIGNAL_CAUTION,
    sources: [read("sensor maker’s page, 10 to 90 % of supply")],
    sums: [
      {
        id: "voltage",
        title: "Voltage for a value",
        formula: ["V = Vs × (0.1 + 0.8 × (x − lower) ÷ (upper − lower))", "Vs measured supply"],
        inputs: [...range, amount("value", "Value", undefined, { hint: "In the same unit" }), amount("supply", "Measured supply", "V")],
        work: (given) =>
          outcomes(
            ratiometricVoltage(
              given.number("value"),
              { lower: given.number("lower"), upper: given.number("upper") },
              given.number("supply"),
            ),
            (volts) => [outcome("voltage", volts, "V", 3)],
          ),
        example: {
          given: { lower: "0", upper: "10", value: "5", supply: "5 V" },
          gives: [["voltage", 2.5, 0.00002]],
          source: "published by onlinesensors.co.uk",
        },
      },
      {
        id: "value",
        title: "Value of a voltage",
        formula: ["x = lower + (V ÷ Vs − 0.1) ÷ 0.8 × (upper − lower)"],
        inputs: [...range, amount("volts", "Voltage", "V"), amount("supply", "Measured supply", "V")],
        work: (given) =>
          outcomes(
            ratiometricValue(given.number("volts"), { lower: given.number("lower"), upper: given.number("upper") }, given.number("supply")),
            (value) => [outcome("value", value, undefined, 4)],
          ),
        example: {
          given: { lower: "0", upper: "10", volts: "2.5 V", supply: "4.75 V" },
          gives: [["value", 5.3289, 0.00005]],
          source: "worked for this figure: the same signal on a low supply reads higher",
        },
      },
    ],
  },
  {
    id: "pickup",
    name: "magnetic pick-ups",
    says: "Frequency that stands for a speed at a toothed wheel, and the way back.",
    caution: "Never feed a frequency into a pick-up that the governor uses on a running engine: the governor would follow it to full fuel.",
    sources: [ARITHMETIC],
    sums: [
      {
        id: "frequency",
        title: "Frequency at a speed",
        formula: ["f = teeth × n ÷ 60"],
        inputs: [whole("teeth", "Teeth of the wheel"), amount("speed", "Speed", "rpm")],
        work: (given) =>
          outcomes(pickupFrequency(given.number("teeth"), given.number("speed")), (hertz) => [outcome("frequency", hertz, "Hz", 2)]),
        example: {
          given: { teeth: "118", speed: "2070 rpm" },
          gives: [["frequency", 4071, 1e-9]],
          source: "worked for this figure: 115 % of 1800 rpm at 118 teeth",
        },
      },
      {
        id: "speed",
        title: "Speed of a frequency",
        formula: ["n = 60 × f ÷ teeth"],
        inputs: [whole("teeth", "Teeth of the wheel"), amount("frequency", "Frequency", "Hz")],
        work: (given) =>
          outcomes(pickupSpeed(given.number("teeth"), given.number("frequency")), (rpm) => [outcome("speed", rpm, "rpm", 1)]),
        example: {
          given: { teeth: "60", frequency: "1800 Hz" },
          gives: [["speed", 1800, 1e-9]],
          source: "with 60 teeth hertz and rpm are the same number",
        },
      },
    ],
  },
  {
    id: "heatSource",
    name: "what may heat a sensor",
    says: "Whether an open water bath reaches the set point without boiling at the pressure of the place.",
    caution:
      "No open oil bath beside a running engine on a moving ship. Where water does not reach, a dry block or a closed stirred bath is wanted.",
    sources: [IF97, read("suppliers’ pages on water baths, 0 to 100 °C")],
    sums: [
      {
        id: "bath",
        title: "Open water bath or not",
        formula: ["an open bath serves where set point + margin < boiling point at the pressure of the place"],
        inputs: [
          amount("setPoint", "Set point", "°C"),
          amount("margin", "Margin below boiling, in °C", undefined, { hint: "A difference, such as 2" }),
          amount("ambient", "Pressure of the air", "hPa", { hint: "Absolute" }),
        ],
        work: (given) =>
          outcomes(
            heatSource({
              setPointCelsius: given.number("setPoint"),
              marginKelvin: given.number("margin"),
              ambientHpa: given.number("ambient"),
            }),
            ({ openWaterBath, boilingCelsius, reason }) => [
              outcome("open water bath", openWaterBath ? "serves" : "does not serve", undefined, undefined, `Because ${reason}.`),
              outcome("water boils at", boilingCelsius, "°C", 3),
            ],
          ),
        example: {
          given: { setPoint: "98 °C", margin: "2", ambient: "1000 hPa" },
          gives: [
            ["open water bath", "does not serve"],
            ["water boils at", 99.606, 0.0005],
          ],
          source: "boiling point worked from IAPWS-IF97",
        },
      },
    ],
  },
  {
    id: "boiling",
    name: "boiling of water",
    says: "At what temperature water boils, at what pressure it does not, and what the air presses at a height.",
    caution:
      "Water above its boiling point at the air’s pressure flashes to steam where a circuit is opened. A wetted sensor is never drawn from a hot or pressurised circuit.",
    sources: [IF97, read("international standard atmosphere")],
    sums: [
      {
        id: "point",
        title: "Boiling point in the open",
        formula: ["saturation temperature at the pressure of the air, IAPWS-IF97 region 4"],
        inputs: [amount("ambient", "Pressure of the air", "hPa", { hint: "Absolute" })],
        work: (given) => outcomes(boilingPoint(given.number("ambient")), (celsius) => [outcome("boiling point", celsius, "°C", 3)]),
        example: {
          given: { ambient: "1013.25 hPa" },
          gives: [["boiling point", 99.974, 0.0005]],
          source: "worked from IAPWS-IF97; the figure itself gives its official verification values",
        },
      },
      {
        id: "pressure",
        title: "Pressure at which water of a temperature boils",
        formula: ["saturation pressure at the temperature, IAPWS-IF97 region 4"],
        inputs: [amount("temperature", "Temperature", "°C")],
        work: (given) =>
          outcomes(saturationPressure(given.number("temperature") + ZERO_CELSIUS_K), (megapascals) => [
            outcome("pressure", megapascals, "MPa", 6, "Absolute. Below it the water boils."),
          ]),
        example: {
          given: { temperature: "110 °C" },
          gives: [["pressure", 0.143376, 5.1e-7]],
          source: "worked from IAPWS-IF97",
        },
      },
      {
        id: "height",
        title: "Pressure of the air at a height",
        formula: ["p = 1013.25 × (1 − 2.25577 × 10⁻⁵ × h)^5.25588"],
        inputs: [amount("height", "Height above the sea, in metres")],
        work: (given) =>
          outcomes(ambientPressure(given.number("height")), (hPa) => [
            outcome("pressure", hPa, "hPa", 1, "The weather of the day moves it by some 3 % either way."),
          ]),
        example: {
          given: { height: "2000" },
          gives: [["pressure", 794.952, 0.00051]],
          source: "constants of the standard atmosphere, worked for this figure",
        },
      },
    ],
  },
];
