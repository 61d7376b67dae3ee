# SPDX-License-Identifier: GPL-3.0-or-later
"""Drawings of the invented parts, one a revision. What a change changed is what differs between two of them."""
import math

from canvas import Canvas, arc, circle

WIDTH, HEIGHT = 760, 480
SHEET = (14, 14, WIDTH - 14, HEIGHT - 14)


def sheet(part, name, revision, date, note):
    """A sheet with its border and title block."""
    canvas = Canvas(WIDTH, HEIGHT)
    left, top, right, bottom = SHEET
    canvas.line([(left, top), (right, top), (right, bottom), (left, bottom), (left, top)], 2)
    canvas.line([(right - 330, bottom), (right - 330, bottom - 62), (right, bottom - 62)], 1.5)
    canvas.line([(right - 330, bottom - 28), (right, bottom - 28)], 1)
    canvas.line([(right - 92, bottom), (right - 92, bottom - 62)], 1)
    canvas.write(f'{part} {name}', right - 320, bottom - 38, 13)
    canvas.write(f'REV {revision}', right - 82, bottom - 38, 15, 2)
    canvas.write(note, right - 320, bottom - 9, 9)
    canvas.write(date, right - 84, bottom - 10, 8)
    canvas.write('INVENTED DEMO DATA', left + 12, bottom - 10, 8, tone=0.55)
    return canvas


def outline(canvas, points, width=2.2):
    canvas.line(points + points[:1], width)


def hatch(canvas, left, top, right, bottom, gap=9, falling=False):
    """Section lines of 45 degrees in a box."""
    at = left - (bottom - top)
    while at < right:
        ax, bx = max(left, at), min(right, at + bottom - top)
        ay, by = top + (ax - at), top + (bx - at)
        if falling:
            ay, by = top + bottom - ay, top + bottom - by
        if bx > ax:
            canvas.line([(ax, ay), (bx, by)], 0.9, 0.45)
        at += gap


def leader(canvas, text, x, y, to_x, to_y, size=11):
    """A note with a line to what it is about."""
    canvas.write(text, x, y - 4, size)
    end = x + len(text) * size * 0.93
    near = x if abs(to_x - x) < abs(to_x - end) else end
    canvas.line([(x, y), (end, y)], 1)
    canvas.arrow(near, y, to_x, to_y)


def smooth(points, n=8):
    """A curve through the points (Catmull and Rom's spline, from memory)."""
    curve = []
    for i in range(len(points) - 1):
        (ax, ay), (bx, by), (cx, cy), (dx, dy) = (points[max(i - 1, 0)], points[i], points[i + 1], points[min(i + 2, len(points) - 1)])
        for t in (j / n for j in range(n)):
            curve.append(tuple(0.5 * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t * t + (3 * b - a - 3 * c + d) * t ** 3)
                               for a, b, c, d in ((ax, bx, cx, dx), (ay, by, cy, dy))))
    return curve + points[-1:]


def nose(ramp, undercut, radius, x, y, scale):
    """The end of the lever: from the back of the ramp over its edge to the tip and up the flank that the notch holds."""
    edge_x, edge_y = 5.2, 0.0
    tip_y = 4.6
    tip_x = edge_x - tip_y * math.tan(math.radians(ramp + 14))
    flank = tip_y * math.tan(math.radians(undercut))
    points = [(14.0, -0.6), (edge_x + radius * 2.2, -0.1)]
    points += [(edge_x + radius * 2.2 * (1 - t) ** 2, edge_y + radius * 2.4 * t ** 2) for t in (0.25, 0.5, 0.75, 1)]
    points += [(tip_x, tip_y), (tip_x - 1.9, tip_y), (tip_x - 1.9 + flank, -2.4), (0.4, -4.2)]
    return [(x + px * scale, y + py * scale) for px, py in points]


LEVERS = {'A': (8, 0, 0.3, '2026-01-15', 'FIRST LEVER'), 'B': (12, 0, 0.3, '2026-04-07', 'STEEPER RAMP'),
          'C': (12, 6, 0.3, '2026-06-09', 'UNDERCUT NOSE'), 'D': (12, 6, 0.6, '2026-10-07', 'RAMP RADIUS, POLISHED')}


def lever(revision):
    ramp, undercut, radius, date, note = LEVERS[revision]
    canvas = sheet('HF-20', 'ROCKER LEVER', revision, date, note)
    scale, x, y = 6.2, 62, 150
    body = nose(ramp, undercut, radius, x, y, scale)
    top = [(0.4, -4.2), (3, -6.6), (12, -8.2), (24, -8.8), (36, -7.4), (44, -9.6), (49, -9.2), (50, -6.6), (46, -5.2), (38, -2.4), (30, 1.4),
           (24, 3.0), (18, 1.2), (14, -0.6)]
    outline(canvas, body + smooth([(x + px * scale, y + py * scale) for px, py in top]))
    outline(canvas, circle(x + 24 * scale, y - 3 * scale, 2.5 * scale, 36), 2)
    canvas.dashes([(x + 24 * scale, y - 11 * scale), (x + 24 * scale, y + 5 * scale)], 0.9, 0.45, 14, 4)
    canvas.dashes([(x + 19 * scale, y - 3 * scale), (x + 29 * scale, y - 3 * scale)], 0.9, 0.45, 14, 4)
    leader(canvas, 'BORE 5 H7', 250, 60, x + 25.5 * scale, y - 5 * scale)
    canvas.line(circle(x + 3.6 * scale, y + 0.6 * scale, 42, 40) + [(x + 3.6 * scale + 42, y + 0.6 * scale)], 1)
    canvas.write('X', x - 34, y + 44, 13)
    canvas.line([(x, y + 80), (x + 50 * scale, y + 80)], 1)
    canvas.arrow(x + 60, y + 80, x, y + 80)
    canvas.arrow(x + 200, y + 80, x + 50 * scale, y + 80)
    canvas.write('50', x + 25 * scale - 8, y + 74, 12)

    big, bx, by = 19.0, 478, 190                                      # the end of the lever, three times as large
    canvas.write('X  (3:1)', bx + 40, 52, 13)
    shape = nose(ramp, undercut, radius, bx, by, big)
    canvas.line(shape, 2.6)
    canvas.dashes([(shape[-3][0], by - 4.4 * big), (shape[-3][0], by + 6 * big)], 0.9, 0.5, 10, 4)
    leader(canvas, f'RAMP {ramp}°', bx + 7.2 * big, by + 3.8 * big, bx + 4.1 * big, by + 2.4 * big)
    leader(canvas, f'R {radius}', bx + 9.2 * big, by + 1.6 * big, bx + 5.4 * big, by + 0.25 * big)
    leader(canvas, f'UNDERCUT {undercut}°' if undercut else 'SQUARE', bx - 4.4 * big, by - 5.6 * big, shape[-2][0] - 1, by - 2.0 * big)
    if revision == 'D':
        canvas.write('POLISHED', bx + 9.2 * big, by + 2.7 * big, 10)
    return canvas


SPRINGS = {'A': (0.8, 0, '2026-01-15', 'WIRE 0.8'), 'B': (0.9, 0, '2026-06-02', 'WIRE 0.9'),
           'C': (0.9, 1.0, '2026-06-05', 'WIRE 0.9, SHOT PEENED')}


def spring(revision):
    wire, radius, date, note = SPRINGS[revision]
    canvas = sheet('HF-30', 'LOCK SPRING', revision, date, note)
    thick, x, y, high, turns = wire * 13, 150, 170, 84, 14
    pitch = thick * 1.28
    for i in range(turns):
        canvas.line([(x + (i + 0.5) * pitch, y + high / 2), (x + (i + 1) * pitch, y - high / 2)], thick + 3)
        canvas.line([(x + (i + 0.5) * pitch, y + high / 2), (x + (i + 1) * pitch, y - high / 2)], thick - 2, 0.97)
    end = x + turns * pitch
    bend = arc(end + 26, y - high / 2 + 26, 26, -90, 0) if radius else [(end + 46, y - high / 2), (end + 50, y - high / 2 + 4)]
    hook = [(end, y - high / 2)] + bend + [(bend[-1][0], y + 18)] + arc(bend[-1][0] - 22, y + 18, 22, 0, 150)
    start = [(x, y - high / 2), (x - 40, y - high / 2), (x - 44, y - high / 2 + 4), (x - 44, y + 20)] + arc(x - 24, y + 20, 20, 180, 30)
    for points in (hook, start):
        canvas.line(points, thick + 3)
        canvas.line(points, thick - 2, 0.97)
    leader(canvas, f'WIRE {wire}', x + 20, 84, x + 60, y - high / 2 - 4)
    leader(canvas, 'R 1.0' if radius else 'BENT SHARP', end + 40, 84, bend[len(bend) // 2][0] + 4, bend[len(bend) // 2][1] - 4)
    if radius:
        leader(canvas, 'INSIDE FREE OF TOOL MARKS', 450, 250, hook[-6][0], hook[-6][1])
        canvas.write('SHOT PEENED ALL OVER', 60, 376, 12)
    canvas.line([(x - 50, y + 96), (end + 54, y + 96)], 1)
    canvas.arrow(x + 60, y + 96, x - 50, y + 96)
    canvas.arrow(end - 60, y + 96, end + 54, y + 96)
    canvas.write('FREE LENGTH 24.0', (x + end) / 2 - 60, y + 90, 11)
    return canvas


BLADES = {'A': (2.1, '2026-01-14', 'FIRST BLADE'), 'B': (2.4, '2026-04-02', 'NOTCH 0.3 DEEPER'), 'C': (2.4, '2026-07-31', 'TANG HARDENED')}


def blade(revision):
    depth, date, note = BLADES[revision]
    canvas = sheet('HF-10', 'TANG OF BLADE', revision, date, note)
    x, y, deep = 210, 190, depth * 21
    points = arc(x, y, 88, 200, 90) + [(700, y + 88), (700, y - 62), (x + 120, y - 62), (x + 40, y - 84)]
    points += [(x - 4, y - 90), (x - 10, y - 90 + deep), (x - 40, y - 82 + deep), (x - 52, y - 74)]
    outline(canvas, points)
    outline(canvas, circle(x, y + 8, 33, 40))
    canvas.dashes([(x, y - 60), (x, y + 104)], 0.9, 0.45, 14, 4)
    canvas.dashes([(x - 60, y + 8), (x + 60, y + 8)], 0.9, 0.45, 14, 4)
    for i in range(18):                                               # the first teeth
        left = 412 + i * 16
        canvas.line([(left, y + 88), (left + 6, y + 102), (left + 16, y + 88)], 1.6)
    canvas.dashes([(x - 90, y - 92), (x + 50, y - 92)], 0.8, 0.5, 6, 4)
    leader(canvas, f'NOTCH {depth} DEEP', 330, 74, x - 22, y - 88 + deep)
    leader(canvas, 'GROUND AFTER HARDENING' if revision == 'C' else 'MILLED', 330, 106, x - 6, y - 84 + deep * 0.7, 10)
    leader(canvas, 'BORE 6 H7', 60, 330, x - 20, y + 36)
    if revision == 'C':
        canvas.write('TANG HARDENED', 400, 210, 12)
    canvas.write('55 - 59 HRC', 400, 240, 12)
    return canvas


HANDLES = {'A': (0.80, 0, '2026-01-15', 'FIRST HANDLE'), 'B': (0.80, 0.4, '2026-06-08', 'RELIEF AT THE LEVER'),
           'C': (0.85, 0.4, '2026-10-05', 'SEAT 0.05 DEEPER')}


def handle(revision):
    """A cut through both scales at the pivot."""
    depth, relief, date, note = HANDLES[revision]
    canvas = sheet('HF-50', 'HANDLE SCALES', revision, date, note)
    left, right, middle = 110, 520, 190
    seat = depth * 26
    for side, falling in ((-1, False), (1, True)):
        inner, outer = middle + side * 16, middle + side * 92
        step = inner + side * seat
        points = [(left, outer), (left, inner), (left + 130, inner), (left + 130, step), (left + 190, step), (left + 190, outer)]
        outline(canvas, points)
        hatch(canvas, left, min(inner, outer), left + 130, max(inner, outer), 9, falling)
        hatch(canvas, left + 130, min(step, outer), left + 190, max(step, outer), 9, falling)
        points = [(left + 240, outer), (left + 240, step), (left + 300, step), (left + 300, inner), (right, inner), (right, outer)]
        if relief:
            points[4:5] = [(right - 70, inner), (right - 70, inner + side * 13), (right, inner + side * 13)]
        outline(canvas, points)
        hatch(canvas, left + 240, min(step, outer), left + 300, max(step, outer), 9, falling)
        hatch(canvas, left + 300, min(inner, outer), right - (70 if relief else 0), max(inner, outer), 9, falling)
        outline(canvas, [(left + 134, middle + side * 10), (left + 134, step), (left + 296, step), (left + 296, middle + side * 10)], 1.4)
    outline(canvas, [(left - 40, middle - 9), (right + 40, middle - 9), (right + 40, middle + 9), (left - 40, middle + 9)], 1.4)
    canvas.write('BLADE', left - 36, middle + 6, 9)
    canvas.dashes([(left + 215, middle - 116), (left + 215, middle + 116)], 0.9, 0.45, 14, 4)
    leader(canvas, f'SEAT {depth:.2f}', left + 290, 60, left + 282, middle - 16 - seat + 2)
    leader(canvas, 'WASHER', 40, 330, left + 140, middle + 20)
    if relief:
        leader(canvas, f'RELIEF {relief}', right + 50, 120, right - 30, middle - 26)
    return canvas


def all_drawings():
    """(part, revision, file name, canvas) of each."""
    for part, name, draw, revisions in (('HF-10', 'blade-tang', blade, BLADES), ('HF-20', 'lever', lever, LEVERS),
                                        ('HF-30', 'spring', spring, SPRINGS), ('HF-50', 'handle', handle, HANDLES)):
        for revision in revisions:
            yield part, revision, f'{name}-{revision}.png', draw(revision)


def marked_lever(hand):
    """Lever C as it came back by mail, with the designer's red pencil on it."""
    canvas = lever('C')
    ring = [(580 + 34 * math.cos(a / 6) * (1 + a / 400), 196 + 26 * math.sin(a / 6) * (1 + a / 300)) for a in range(44)]
    canvas.line(ring, 2.6, red=True)
    canvas.write('R 0.6!', 628, 118, 19, 2.6, red=True, slant=0.15, wobble=hand)
    canvas.write('POLISH', 628, 148, 15, 2.2, red=True, slant=0.15, wobble=hand)
    canvas.line([(648 + hand.uniform(-1, 1), 213), (694, 209 + hand.uniform(-1, 1))], 2.4, red=True)
    canvas.write('EDGE DIGS INTO THE LINER', 300, 330, 14, 2.2, red=True, slant=0.15, wobble=hand)
    canvas.arrow(520, 312, 566, 222, 2.4, red=True, size=13)
    canvas.write('NOSE AND FLANK STAY AS THEY ARE', 60, 376, 13, 2, red=True, slant=0.15, wobble=hand)
    canvas.write('RB 1 OCT', 60, 410, 13, 2, red=True, slant=0.15, wobble=hand)
    return canvas
