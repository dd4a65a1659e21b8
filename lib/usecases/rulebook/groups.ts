/** Under which heads the list of protections stands, each in the order in which they are proven. A test holds that none is left out. */
export const PROTECTION_GROUPS: readonly { readonly title: string; readonly kinds: readonly string[] }[] = [
  { title: "Stops", kinds: ["handStop", "fuelShutOff", "airFlap"] },
  {
    title: "Oil and water",
    kinds: ["lubeOilPressure", "lubeOilAlarm", "jacketWaterTemperature", "jacketWaterAlarm", "standbyOilPump", "bearingOilPressure"],
  },
  { title: "Speed", kinds: ["overspeed", "secondOverspeed", "turbineOverspeed", "secondTurbineOverspeed"] },
  {
    title: "Bearings, windings, crankcase and exhaust",
    kinds: ["exhaustPressure", "bearingTemperature", "windingTemperature", "vibration", "oilMist", "fuelLeak"],
  },
  { title: "Controls", kinds: ["sensorFailure", "controlSupply", "startInterlock", "gasTrip"] },
  { title: "Switchboard", kinds: ["reversePower", "preferentialTrips", "undervoltageRelease", "overcurrent", "standbyStart"] },
  { title: "Shaft generators", kinds: ["shaftTrips", "shaftDisconnect", "shaftHandover"] },
  { title: "Emergency set and loss of power", kinds: ["emergencyStart", "fireRelease", "lossOfPower"] },
];
