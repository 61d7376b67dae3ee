# SPDX-License-Identifier: GPL-3.0-or-later
"""What stands for photographs in the demo: drawn, of nothing that exists, in the manner of a picture taken at a bench."""
import math
import random

from canvas import Canvas, arc, circle
from drawings import nose, smooth

WIDTH, HEIGHT = 600, 420


def bench(seed, light=0.36):
    """A dark board with its grain, lit from above on the left; a scale in millimetres lies along the lower edge."""
    rough = random.Random(seed)
    canvas = Canvas(WIDTH, HEIGHT)
    streaks = [(rough.uniform(0, HEIGHT), rough.uniform(2, 9), rough.uniform(-0.035, 0.03)) for _ in range(46)]
    for y in range(HEIGHT):
        grain = sum(depth for at, wide, depth in streaks if abs(y - at) < wide)
        for x in range(WIDTH):
            canvas.tone[y * WIDTH + x] = light + grain + 0.10 * (1 - (x / WIDTH + y / HEIGHT) / 2) + 0.012 * math.sin(x / 37 + y / 5)
    return canvas, rough


def rule(canvas, millimetre):
    """A steel rule at the foot of the picture."""
    top = HEIGHT - 50
    canvas.fill([[(0, top + 4), (WIDTH, top - 2), (WIDTH, HEIGHT), (0, HEIGHT)]], lambda x, y: 0.74 - 0.12 * (y - top) / 50 + 0.03 * math.sin(x / 60))
    for i in range(int(WIDTH / millimetre) + 1):
        x = 8 + i * millimetre
        high = 20 if i % 10 == 0 else 15 if i % 5 == 0 else 10
        canvas.line([(x, top + 5), (x, top + 5 + high)], 1.3, 0.22)
        if i % 10 == 0:
            canvas.write(str(i), x + 3, top + 38, 11, 1.3, tone=0.22)


def steel(rough, base=0.66, angle=0.0, depth=0.05):
    """The tone of a ground face: fine streaks along one way, and a broad glint."""
    streaks = [rough.gauss(0, depth) for _ in range(997)]
    across, along = -math.sin(angle), math.cos(angle)

    def tone(x, y):
        at = x * across + y * along
        return base + streaks[int(at * 1.4) % 997] * 0.6 + 0.13 * math.exp(-((x * along - y * across - 260 - at / 4) / 95) ** 2)
    return tone


def shadow(canvas, rings, x=7, y=9):
    for i in range(5):
        canvas.fill([[(px + x + i - 2, py + y + i - 2) for px, py in ring] for ring in rings], 0.08, strength=0.17)


def rod(canvas, points, width, bright=0.9, dark=0.2):
    """A round wire: from its dark edge to the bright line along it, a little beside the middle."""
    for i in range(7):
        share = i / 6
        off = width * 0.16 * share
        canvas.line([(x - off, y - off) for x, y in points], width * (1 - 0.86 * share), dark + (bright - dark) * share ** 0.8)


def worn_ramp():
    """The end of a lever: where the edge of the ramp ran, a bright step, scratches, and a lip of metal pushed up."""
    canvas, rough = bench(2)
    shape = nose(12, 6, 0.3, 150, 150, 34)
    body = shape + smooth([(150 + px * 34, 150 + py * 34) for px, py in ((0.4, -4.2), (4, -6.0), (9, -6.4), (14.5, -5.6), (14, -0.6))])
    shadow(canvas, [body])
    canvas.fill([body], steel(rough, 0.62, 0.18))
    canvas.line(shape[1:7], 5, 0.9, strength=0.75)
    canvas.line(shape[7:10], 3, 0.84, strength=0.6)
    edge_x, edge_y = shape[3]
    for i in range(26):                                               # the worn step
        a = i / 25
        canvas.fill([circle(edge_x - 4 - a * 30 + rough.gauss(0, 2), edge_y + 16 + a * 62 + rough.gauss(0, 2), 10 - 5 * a, 14)], 0.34 + 0.2 * a, strength=0.28)
    for _ in range(60):
        down = rough.uniform(-6, 84)
        x, y, long = edge_x - 0.49 * max(down, 0) - rough.uniform(3, 34), edge_y + down, rough.uniform(8, 26)
        canvas.line([(x, y), (x - long * 0.47, y + long)], rough.uniform(0.6, 1.6), rough.choice((0.95, 0.2, 0.88)), strength=0.6)
    lip = smooth([(edge_x - 2, edge_y - 4), (edge_x + 10, edge_y + 6), (edge_x + 7, edge_y + 20), (edge_x - 8, edge_y + 34)])
    canvas.line(lip, 5, 0.98, strength=0.85)
    canvas.line([(x + 4, y + 3) for x, y in lip], 3, 0.12, strength=0.7)
    rule(canvas, 34)
    return canvas


def broken_hook():
    """A spring whose hook broke off at the bend: the grain of the break shows, the piece lies beside it."""
    canvas, rough = bench(3, 0.30)
    x, y, high, pitch, wire = 70, 190, 128, 25, 21
    turns = [[(x + i * pitch, y + high / 2), (x + (i + 0.45) * pitch, y - high / 2)] for i in range(13)]
    backs = [[(x + (i + 0.45) * pitch, y - high / 2), (x + (i + 1) * pitch, y + high / 2)] for i in range(13)]
    stub = smooth([backs[-1][1], (x + 13.4 * pitch, y + 30), (x + 13.9 * pitch, y - 16), (x + 14.2 * pitch, y - 24)])
    for points in backs + turns + [stub]:
        shadow(canvas, [[(px - 8, py) for px, py in points] + [(px + 8, py) for px, py in points[::-1]]], 9, 12)
    for points in backs:
        rod(canvas, points, wire, 0.5, 0.1)
    for points in turns:
        rod(canvas, points, wire)
    rod(canvas, stub, wire)

    def face(cx, cy, wide, high, lean):
        ring = [(cx + (px - cx) * math.cos(lean) - (py - cy) * high / wide * math.sin(lean),
                 cy + (px - cx) * math.sin(lean) + (py - cy) * high / wide * math.cos(lean)) for px, py in circle(cx, cy, wide, 30)]
        canvas.fill([ring], 0.58)
        for _ in range(130):                                          # coarse grain, bright and dark
            angle, far = rough.uniform(0, 2 * math.pi), math.sqrt(rough.random()) * 0.9
            canvas.fill([circle(cx + far * wide * math.cos(angle + lean), cy + far * high * math.sin(angle + lean), rough.uniform(0.7, 1.6), 7)],
                        rough.choice((0.95, 0.86, 0.3, 0.18)), strength=0.8)
        canvas.line(ring[18:27], 2, 0.97)
        canvas.fill([circle(cx - wide * 0.6 * math.cos(lean), cy - wide * 0.6 * math.sin(lean), 3.2, 12)], 0.06, strength=0.85)   # where it began

    face(stub[-1][0] + 3, stub[-1][1] - 5, 13, 9, -0.5)
    piece = arc(496, 262, 44, 200, 20) + [(538, 296)]
    shadow(canvas, [piece + [(px + 12, py + 10) for px, py in piece[::-1]]], 9, 12)
    rod(canvas, piece, wire)
    face(piece[0][0] + 1, piece[0][1] + 4, 13, 9, 0.9)
    for i in range(6):                                                # tool marks inside the bend
        mark = arc(496, 262, 40, 130 - i * 13, 130 - i * 13, 1)[0]
        canvas.line([(mark[0] - 3, mark[1] - 3), (mark[0] + 3, mark[1] - 6)], 1.6, 0.06, strength=0.8)
    rule(canvas, 26)
    return canvas


def slip_mark():
    """A tang with its notch; from the corner of the notch a bright scrape runs over the round, where the lever rode up."""
    canvas, rough = bench(4)
    x, y = 250, 240
    tang = (arc(x, y, 150, 170, 60) + [(620, y + 160), (620, y - 105), (x + 190, y - 112)] +
            smooth([(x + 90, y - 140), (x + 30, y - 152), (x + 8, y - 148)]) + [(x - 6, y - 78), (x - 66, y - 62), (x - 92, y - 122)])
    shadow(canvas, [tang], 9, 12)
    canvas.fill([tang], steel(rough, 0.58, -0.06, 0.07))
    canvas.line(tang[:17], 4, 0.86, strength=0.5)
    canvas.fill([circle(x, y + 20, 56, 48)], lambda px, py: 0.17 + 0.10 * (px - x + 56) / 112)
    canvas.line(arc(x, y + 20, 56, 20, 160, 30), 4, 0.88, strength=0.7)
    canvas.line([(x + 8, y - 148), (x - 6, y - 78), (x - 66, y - 62), (x - 92, y - 122)], 3, 0.9, strength=0.7)
    for i in range(34):
        a = rough.uniform(0, 1)
        start = (x + 6 + rough.gauss(0, 3), y - 142 + rough.uniform(0, 26))
        end = (start[0] + 34 + 74 * a, start[1] - 1 + rough.uniform(-3, 16) * a)
        canvas.line([start, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2 - 3), end], rough.uniform(0.7, 2.2), rough.choice((0.97, 0.97, 0.86, 0.26)), strength=0.6)
    rule(canvas, 22)
    return canvas


def rubbed_blade():
    """A blade half out of its handle, with an arc rubbed bright near the back."""
    canvas, rough = bench(5, 0.28)
    handle = smooth([(-20, 120), (90, 104), (210, 112), (300, 132), (322, 190), (300, 252), (210, 290), (90, 300), (-20, 290)])
    blade = [(150, 150), (330, 128), (640, 96), (640, 262), (330, 258), (150, 250)]
    shadow(canvas, [blade], 9, 14)
    canvas.fill([blade], steel(rough, 0.66, -0.09))
    for i in range(20):                                               # teeth
        left = 342 + i * 15.4
        canvas.fill([[(left, 257), (left + 5, 276), (left + 15.4, 258)]], 0.52)
        canvas.line([(left, 257), (left + 5, 276)], 1.2, 0.9)
    for i in range(22):                                               # where it rubs
        off = rough.gauss(0, 5)
        canvas.line(arc(150, 470, 372 + off, -62 + rough.uniform(0, 6), -38 - rough.uniform(0, 8), 24), rough.uniform(0.8, 2.4), rough.choice((0.98, 0.95, 0.4)), strength=0.5)
    shadow(canvas, [handle], 8, 12)
    rings = [rough.uniform(-0.05, 0.05) for _ in range(97)]
    canvas.fill([handle], lambda px, py: 0.33 + rings[int(py * 0.5 + 5 * math.sin(px / 70)) % 97] + 0.12 * math.exp(-((py - 150) / 34) ** 2))
    canvas.fill([circle(262, 196, 25, 40)], lambda px, py: 0.74 - 0.010 * (py - 171))
    canvas.line([(244, 206), (280, 186)], 5, 0.15)
    rule(canvas, 12)
    return canvas


def burr():
    """The slot of the lever in a handle scale; at its end a thin bright lip of metal stands up."""
    canvas, rough = bench(6, 0.30)
    plate = [(60, 60), (560, 44), (572, 330), (74, 342)]
    shadow(canvas, [plate], 9, 13)
    canvas.fill([plate], steel(rough, 0.60, 0.5, 0.06))
    slot = arc(170, 200, 46, 90, 270) + arc(430, 190, 46, 270, 450)
    canvas.fill([slot], lambda px, py: 0.12 + 0.10 * (py - 140) / 110)
    canvas.line(slot[:17], 4, 0.9, strength=0.7)
    canvas.line([slot[0], slot[-1]], 4, 0.88, strength=0.7)
    lip = [(px + rough.gauss(0, 1.6), py + rough.gauss(0, 1.6)) for px, py in arc(430, 190, 45, -58, 38, 30)]
    canvas.line([(px + 5, py + 5) for px, py in lip], 6, 0.06, strength=0.8)
    canvas.line(lip, 6, 0.97)
    for px, py in lip[::4]:
        canvas.line([(px, py), (px - rough.uniform(4, 13), py + rough.uniform(-4, 6))], 2.4, 0.95)
    for _ in range(26):
        x, y = rough.uniform(150, 440), rough.choice((150, 236)) + rough.uniform(-5, 5)
        canvas.line([(x, y), (x + rough.uniform(8, 40), y + rough.uniform(-2, 2))], 0.9, rough.choice((0.9, 0.3)), strength=0.5)
    rule(canvas, 40)
    return canvas


def all_photographs():
    """(file name, PNG) of each."""
    for seed, (name, take) in enumerate((('lever-ramp-worn', worn_ramp), ('spring-hook-broken', broken_hook), ('tang-slip-mark', slip_mark),
                                         ('blade-rubbed', rubbed_blade), ('lever-slot-burr', burr))):
        yield f'{name}.png', take().photograph(random.Random(100 + seed))
