# Writes the invented recordings of this folder anew: no real car, track or driver.
import math, random
random.seed(5)
LAT, LON = 50.1, 10.2
north, east = 111229.0, 71696.0  # m a degree there

def heading(h): return math.sin(h), math.cos(h)

# Coast-downs: 1236 kg in effect, 170 N, drag areas 0.69 and 0.715 m² at 1.2 kg/m³, wind of 1 m/s, both ways, two recordings.
for name, area in ("coast-low", 0.69), ("coast-high", 0.715):
    rows, t = [], 0.0
    for k in range(6):
        h = math.radians(80) if k % 2 == 0 else math.radians(260)
        hx, hy = heading(h)
        x, y = (0, 0) if k % 2 == 0 else (900 * math.sin(math.radians(80)), 900 * math.cos(math.radians(80)))
        v, wind = 12.0, (1.0 if k % 2 == 0 else -1.0) + 0.3 * random.gauss(0, 1)
        def row(throttle, brake):
            rows.append("%.1f;%s;%.7f;%.7f;%d;%d" % (t, ("%.2f" % ((v + 0.05 * random.gauss(0, 1)) * 3.6)).replace(".", ","), LAT + y / north, LON + x / east, throttle, brake))
        while v < 38:
            row(100, 0)
            v += 2.0; t += 0.5; x += hx * v * 0.5; y += hy * v * 0.5
        v = 38.0
        while v > 18:
            row(0, 0)
            for _ in range(5):
                f = 170 + 0.6 * area * (v - wind) ** 2
                v -= f / 1236 * 0.1; x += hx * v * 0.1; y += hy * v * 0.1
            t += 0.5
        while v > 12:
            row(0, 30)
            v -= 3; t += 0.5
        t += 60
    open(name + ".csv", "w").write("Invented recording\nTime [s];GPS Speed [km/h];Latitude;Longitude;Throttle [%];Brake [bar]\n" + "\n".join(rows) + "\n")

# Ride heights: a slope of 0.0008 and 0.0020 mm per (m/s)² at the rear, in front 0.0006 and 0.0001; squat of 0.5 mm for each m/s².
for name, front, rear in ("ride-low", 0.0006, 0.0008), ("ride-high", 0.0001, 0.0020):
    rows, t, v = [], 0.0, 20.0
    def row(a, side, brake):
        global t
        r = 0.8 * random.gauss(0, 1)
        rows.append("%.1f,%.2f,%.1f,%.1f,%.2f,%d" % (t, v, 100 - front * v * v + 0.3 * a + r, 120 - rear * v * v - 0.5 * a + r, side, brake))
        t += 0.2
    for lap in range(4):
        while v < 55:
            a = 3.0 * (1 - v / 75); row(a, 0.0, 0); v += a * 0.2
        while v > 28:
            a = -0.2 - 5e-4 * v * v; row(a, 0.0, 0); v += a * 0.2
        while v > 20:
            row(-8, 0, 40); v -= 1.6
        v = 20.0
        for _ in range(20): row(0, 0.9, 0)
    open(name + ".csv", "w").write("Time [s],Speed [m/s],Front Ride Height [mm],Rear Ride Height [mm],Lat Acc [g],Brake [bar]\n" + "\n".join(rows) + "\n")

# Three laps and the way out and in, as GPX; a fifth of it slower in the second file. Ovals.
for name, fast in ("laps-a", 38.0), ("laps-b", 37.0):
    pts, t, phi = [], 0.0, -2.0
    while phi < 3 * 2 * math.pi + 1.5:
        if abs(t / 0.5 - round(t / 0.5)) < 1e-6:
            s = t
            pts.append('<trkpt lat="%.7f" lon="%.7f"><time>2026-05-01T10:%02d:%06.3fZ</time></trkpt>' % (LAT + 150 * math.sin(phi) / north, LON + 220 * math.cos(phi) / east, s // 60, s % 60))
        v = 18 + (fast - 18) * (1 + math.cos(2 * phi)) / 2
        phi += v * 0.01 / math.hypot(220 * math.sin(phi), 150 * math.cos(phi))
        t = round(t + 0.01, 2)
    open(name + ".gpx", "w").write('<?xml version="1.0"?>\n<gpx version="1.1" creator="invented" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>\n' + "\n".join(pts) + "\n</trkseg></trk></gpx>\n")

# A top speed, both ways, and one at which the car still gains.
for name, tops in ("top", (60.6, 59.4)), ("top-gains", (60.0,)):
    rows, t = [], 0.0
    for k, top in enumerate(tops):
        y, way = (0, 1) if k == 0 else (4500, -1)
        for i in range(0, 180 if name == "top" else 50):
            v = top - 30 * math.exp(-i * 0.5 / 12)
            rows.append("%.1f,%.2f,%.7f,%.7f" % (t, v, LAT + y / north, LON)); t += 0.5; y += way * v * 0.5
        t += 100
    open(name + ".csv", "w").write("time,speed m/s,lat,lon\n" + "\n".join(rows) + "\n")
