"""The same small unit and car, written down again and integrated with scipy.integrate.solve_ivp between the module's looks.

Independent of the program: air by series and parallel orifices, heat by hand, module by hand. Only numbers come in.
"""
import json
import math
import sys

from scipy.integrate import solve_ivp

CP = 1006.0
RHO = 1.2


def orifice(area, cd=0.65):
    return RHO / (2.0 * cd * cd * area * area)


def effectiveness(size, rated, mass):
    return 0.0 if mass <= 0 else 1.0 - math.exp(-size * (mass / rated) ** 0.6 / (mass * CP))


def main():
    p = json.load(sys.stdin)
    car, outside, people, speed = p["car"], p["outside"], p["people"], p["speed"]
    q = math.sqrt(p["fan"] * p["blower"] ** 2 / (orifice(p["wheel"]) + orifice(p["mix"]) + orifice(p["vent"])))
    mass = q * RHO
    shell = car["shell"] + car["shellPerSpeed"] * speed
    gaps = max(0.0, car["gaps"] + car["gapsPerSpeed"] * speed - mass)

    def blown(x, coolant):
        share = effectiveness(car["heater"], car["rated"], mass * x) * 1.05 / 1.05
        hot = outside + share * (coolant - outside)
        return (1.0 - x) * outside + x * hot, mass * x * CP * (hot - outside)

    def slopes(y, x):
        air, trim, coolant, sensor = y
        t, heater = blown(x, coolant)
        sun = p["sun"] * car["sunArea"]
        open_ = min(1.0, max(0.0, (coolant - car["opens"]) / (car["full"] - car["opens"])))
        to_air = mass * CP * (t - air) + sun * car["sunToAir"] + people * car["person"] + (gaps * CP + shell) * (outside - air) + car["airToTrim"] * (trim - air)
        to_trim = sun * (1.0 - car["sunToAir"]) + car["trimToOutside"] * (outside - trim) - car["airToTrim"] * (trim - air)
        to_coolant = p["engine"] * car["perTurn"] - heater - (open_ * car["radiator"] + car["loss"]) * (coolant - outside)
        return [to_air / car["air"], to_trim / car["trim"], to_coolant / car["coolant"], (air - sensor) / p["lag"]]

    def seen(kelvin):
        ohms = p["r25"] * math.exp(p["beta"] * (1.0 / kelvin - 1.0 / 298.15))
        loaded = ohms * 1e6 / (ohms + 1e6)
        return 1.0 / (1.0 / 298.15 + math.log(loaded / p["r25"]) / p["beta"]) - 273.15

    y, x, drive, out = [p["start"], p["start"], p["coolantStart"], p["start"]], p["place"], 0, []
    looks = int(round(p["minutes"] * 60 / 0.2))
    for i in range(looks + 1):
        if i % 300 == 0:
            out.append([y[0], x])
        goal = min(1.0, max(0.0, 0.5 + p["gain"] * (p["set"] - seen(y[3]))))
        error = goal - x
        if drive != 0 and error * drive > 0.02 * 0.02:
            pass
        else:
            drive = 0 if abs(error) <= 0.02 else (1 if error > 0 else -1)
        x0, rate = x, drive * p["servoRate"]
        at = lambda s: min(1.0, max(0.0, x0 + rate * s))
        y = list(solve_ivp(lambda s, z: slopes(z, at(s)), (0.0, 0.2), y, rtol=1e-8, atol=1e-8).y[:, -1])
        x = at(0.2)
    json.dump(out, sys.stdout)


main()
