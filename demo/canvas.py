# SPDX-License-Identifier: GPL-3.0-or-later
"""A small drawing surface of one tone and one red pencil, written as PNG with Python's own zlib.

Shapes are polygons, filled by the area that they cover of each pixel: an edge adds to a pixel the height it crosses
there, less the part of the pixel that lies left of it; the running sum along a line is then the share covered."""
import math
import struct
import zlib

# Lettering as on drawings: strokes on a grid of 4 by 6, each point two digits, y down.
LETTERS = {
    'A': '06 20 46;13 33', 'B': '03 33 44 45 36 06 00 30 41 42 33', 'C': '41 30 10 01 05 16 36 45', 'D': '00 06 26 44 42 20 00',
    'E': '40 00 06 46;03 33', 'F': '40 00 06;03 33', 'G': '41 30 10 01 05 16 36 45 43 23', 'H': '00 06;40 46;03 43', 'I': '20 26',
    'J': '40 45 36 16 05', 'K': '00 06;40 03 46', 'L': '00 06 46', 'M': '06 00 23 40 46', 'N': '06 00 46 40',
    'O': '10 30 41 45 36 16 05 01 10', 'P': '06 00 30 41 42 33 03', 'Q': '10 30 41 45 36 16 05 01 10;34 46', 'R': '06 00 30 41 42 33 03;23 46',
    'S': '41 30 10 01 02 13 33 44 45 36 16 05', 'T': '00 40;20 26', 'U': '00 05 16 36 45 40', 'V': '00 26 40', 'W': '00 16 23 36 40',
    'X': '00 46;40 06', 'Y': '00 23 40;23 26', 'Z': '00 40 06 46', '0': '10 30 41 45 36 16 05 01 10', '1': '11 20 26',
    '2': '01 10 30 41 42 06 46', '3': '00 40 23 33 44 45 36 16 05', '4': '36 30 04 44', '5': '40 00 03 33 44 45 36 06',
    '6': '30 10 01 05 16 36 45 44 33 13 04', '7': '00 40 16', '8': '13 02 01 10 30 41 42 33 13 04 05 16 36 45 44 33',
    '9': '16 36 45 41 30 10 01 02 13 33 42', '.': '26 26', ',': '26 17', '-': '13 33', '/': '06 40', '(': '30 12 14 36', ')': '10 32 34 16',
    '°': '10 20 21 11 10', ':': '22 22;26 26', '+': '21 25;03 43', '=': '02 42;04 44', '?': '01 10 30 41 42 23 24;26 26', '!': '20 24;26 26',
    "'": '20 21'}


def circle(x, y, radius, n=24):
    return [(x + radius * math.cos(2 * math.pi * i / n), y + radius * math.sin(2 * math.pi * i / n)) for i in range(n)]


def arc(x, y, radius, start, end, n=16):
    """Points of an arc; angles in degrees, counted as they appear with y down."""
    return [(x + radius * math.cos(math.radians(start + (end - start) * i / n)),
             y + radius * math.sin(math.radians(start + (end - start) * i / n))) for i in range(n + 1)]


def band(points, width):
    """The polygons that a line of some width covers, all turning the same way round: a box a stretch, a disc a point."""
    rings = []
    half = width / 2
    for (ax, ay), (bx, by) in zip(points, points[1:]):
        length = math.hypot(bx - ax, by - ay)
        if length > 0:
            ux, uy = (bx - ax) / length * half, (by - ay) / length * half
            rings.append([(ax + uy, ay - ux), (bx + uy, by - ux), (bx - uy, by + ux), (ax - uy, ay + ux)])
    rings += [circle(x, y, half, 12) for x, y in points]
    return rings


class Canvas:
    """Tones from 0, black, to 1, white; the red pencil lies over them, from 0 to 1."""

    def __init__(self, width, height, tone=1.0):
        self.width, self.height = width, height
        self.tone = [tone] * (width * height)
        self.red = [0.0] * (width * height)

    def fill(self, rings, tone, red=False, strength=1.0):
        """Fills polygons with a tone, or with what tone(x, y) says for the middle of each pixel."""
        left = math.floor(min(x for ring in rings for x, _ in ring))
        top = math.floor(min(y for ring in rings for _, y in ring))
        across = math.ceil(max(x for ring in rings for x, _ in ring)) - left + 2
        down = math.ceil(max(y for ring in rings for _, y in ring)) - top + 1
        sums = [0.0] * (across * down)
        for ring in rings:
            for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1]):
                add_edge(sums, across, ax - left, ay - top, bx - left, by - top)
        for row in range(max(0, -top), min(down, self.height - top)):
            total = 0.0
            for column in range(across):
                total += sums[row * across + column]
                covered = min(1.0, abs(total)) * strength
                x, y = left + column, top + row
                if covered < 0.004 or not 0 <= x < self.width:
                    continue
                at = y * self.width + x
                if red:
                    self.red[at] = max(self.red[at], covered)
                    continue
                wanted = tone(x + 0.5, y + 0.5) if callable(tone) else tone
                self.tone[at] += (wanted - self.tone[at]) * covered

    def line(self, points, width=1.5, tone=0.12, red=False, strength=1.0):
        self.fill(band(points, width), tone, red, strength)

    def dashes(self, points, width=1.2, tone=0.12, on=8, off=5):
        for (ax, ay), (bx, by) in zip(points, points[1:]):
            length = math.hypot(bx - ax, by - ay)
            at = 0.0
            while at < length:
                end = min(length, at + on)
                self.line([(ax + (bx - ax) * at / length, ay + (by - ay) * at / length),
                           (ax + (bx - ax) * end / length, ay + (by - ay) * end / length)], width, tone)
                at += on + off

    def write(self, text, x, y, size=12, width=None, red=False, tone=0.12, slant=0.0, wobble=None):
        """Letters as on drawings, y at their foot. Returns the x after them."""
        unit = size / 6
        for letter in text.upper():
            for stroke in LETTERS.get(letter, '').split(';'):
                points = []
                for point in stroke.split():
                    px, py = int(point[0]) * unit, (int(point[1]) - 6) * unit
                    if wobble:
                        px, py = px + wobble.uniform(-0.35, 0.35) * unit, py + wobble.uniform(-0.35, 0.35) * unit
                    points.append((x + px - slant * py, y + py))
                if points:
                    self.line(points, width or max(1.1, size / 10), tone, red)
            x += (5.6 if letter != ' ' else 3.6) * unit
        return x

    def arrow(self, ax, ay, bx, by, width=1.1, red=False, size=7):
        self.line([(ax, ay), (bx, by)], width, red=red)
        angle = math.atan2(by - ay, bx - ax)
        self.fill([[(bx, by), (bx - size * math.cos(angle - 0.3), by - size * math.sin(angle - 0.3)),
                    (bx - size * math.cos(angle + 0.3), by - size * math.sin(angle + 0.3))]], 0.12, red)

    def drawing(self):
        """As a PNG of 32 greys and 32 reds."""
        palette = [(i * 8 + i // 4, i * 8 + i // 4, i * 8 + i // 4) for i in range(32)]
        palette += [(255 - i * 52 // 31, 255 - i * 215 // 31, 255 - i * 205 // 31) for i in range(32)]
        pixels = bytearray(32 + round(min(1, r) * 31) if r > 0.12 else round(max(0, min(1, t)) * 31)
                           for t, r in zip(self.tone, self.red))
        return png(self.width, self.height, pixels, palette, 0)

    def photograph(self, grain):
        """As a PNG of 72 warm tones, darker towards the corners, with the grain of a cheap camera."""
        palette = [(round(255 * (i / 71) ** 0.97), round(250 * (i / 71) ** 1.02), round(238 * (i / 71) ** 1.10)) for i in range(72)]
        pixels = bytearray()
        for at, tone in enumerate(self.tone):
            x, y = at % self.width / self.width - 0.5, at // self.width / self.height - 0.5
            tone = tone * (1 - 0.55 * (x * x + y * y)) + grain.gauss(0, 0.004)
            pixels.append(round(max(0.0, min(1.0, tone)) * 71))
        return png(self.width, self.height, pixels, palette, 1)


def add_edge(sums, across, ax, ay, bx, by):
    if ay == by:
        return
    way = 1.0
    if ay > by:
        ax, ay, bx, by, way = bx, by, ax, ay, -1.0
    slope = (bx - ax) / (by - ay)
    x = ax
    for row in range(int(ay), math.ceil(by)):
        high = min(row + 1, by) - max(row, ay)
        after = x + slope * high
        left, right = min(x, after), max(x, after)
        first, last = int(left), int(right)
        at = row * across
        if first == last:
            share = way * high
            sums[at + first] += share * (1 - (left + right) / 2 + first)
            sums[at + first + 1] += share * ((left + right) / 2 - first)
        else:                                        # the edge crosses several pixels of this row: piece by piece
            for pixel in range(first, last + 1):
                start, end = max(left, pixel), min(right, pixel + 1)
                share = way * high * (end - start) / (right - left)
                middle = (start + end) / 2 - pixel
                sums[at + pixel] += share * (1 - middle)
                sums[at + pixel + 1] += share * middle
        x = after


def png(width, height, pixels, palette, kind):
    """Indexed pixels as a PNG; kind 0 writes rows as they are, 1 as differences from the pixel before."""
    raw = bytearray()
    for row in range(height):
        line = pixels[row * width:(row + 1) * width]
        raw.append(kind)
        raw += line if kind == 0 else bytes((value - before) % 256 for value, before in zip(line, b'\0' + line))

    def chunk(name, data):
        return struct.pack('>I', len(data)) + name + data + struct.pack('>I', zlib.crc32(name + data))

    return (b'\x89PNG\r\n\x1a\n' + chunk(b'IHDR', struct.pack('>IIBBBBB', width, height, 8, 3, 0, 0, 0)) +
            chunk(b'PLTE', bytes(value for colour in palette for value in colour)) +
            chunk(b'IDAT', zlib.compress(bytes(raw), 9)) + chunk(b'IEND', b''))
