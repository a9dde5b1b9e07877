"""Prints what the Python library fluids computes, one value a line:

    quantity,first argument,second argument,value

in SI units. Run: /usr/bin/python3 reference.py
"""
from fluids import ATMOSPHERE_1976, fittings, friction, piping


def show(quantity, a, b, value):
    print(f"{quantity},{a!r},{b!r},{float(value)!r}")


reynolds = [10.0 ** (k / 8) for k in range(0, 65)]
roughness = [0.0, 1e-6, 1e-5, 1e-4, 3e-4, 1e-3, 3e-3, 0.01, 0.03, 0.05]
for re in reynolds:
    for rel in roughness:
        show("churchill", re, rel, friction.Churchill_1977(re, rel))
        if re >= 4000:
            show("colebrook", re, rel, friction.Colebrook(re, rel))

for k in range(1, 20):
    small, large = 8.1e-3 * k / 20, 8.1e-3
    show("expansion", small, large, fittings.diffuser_sharp(small, large, method="Rennels"))
    show("contraction", small, large, fittings.contraction_conical_Crane(large, small, l=0.0))

# The bore is in inches. A tee used as an elbow stands among the elbows.
for kind, name in [
    ("elbow_45", "Elbow, 45°, Standard (R/D = 1), All types"),
    ("elbow_90", "Elbow, 90°, Standard (R/D = 1), Screwed"),
    ("elbow_90_long", "Elbow, 90°, Long-radius (R/D = 1.5), All types"),
    ("tee_run", "Tee, Run, Screwed"),
    ("tee_branch", "Elbow, Used as, Standard, Screwed"),
    ("valve_check_lift", "Valve, Check, Lift"),
    ("valve_check_swing", "Valve, Check, Swing"),
]:
    for re in [10.0, 300.0, 2000.0, 15000.0, 1e6]:
        for bore in [4.8e-3, 8.1e-3, 12.7e-3]:
            show("two_k:" + kind, re, bore, fittings.Hooper2K(bore / 0.0254, re, name=name))

for k in range(-5, 51):
    air = ATMOSPHERE_1976(100.0 * k)
    show("air_temperature", 100.0 * k, 0.0, air.T)
    show("air_pressure", 100.0 * k, 0.0, air.P)
    show("air_density", 100.0 * k, 0.0, air.rho)

for gauge in range(0, 37):
    show("awg_diameter", float(gauge), 0.0, piping.t_from_gauge(gauge, SI=True, schedule="AWG"))
