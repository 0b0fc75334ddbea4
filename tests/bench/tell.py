"""Writes what measure.py found into a page and a picture: tell.py RESULTS.json README.md PICTURE.svg"""
import json
import math
import re
import sys

BEGIN, END = "<!-- measured -->", "<!-- end of what was measured -->"
COLOURS = ["#0b6e4f", "#c1440e", "#2e5aac", "#7b3fa0", "#8a6d00", "#00838f", "#ad1457", "#5d4037", "#37474f", "#6b8e23"]
DRAWN = ["intake", "the same files again", "quarter", "quarter, ten closed", "reconcile", "trace a figure", "flags", "check",
         "workbook", "record a ticket", "correct a grower", "start"]
WIDTH, HEIGHT, LEFT, RIGHT, TOP, BOTTOM = 860, 560, 70, 250, 30, 50


def exponent(points):
    """Of the power of the size that the seconds follow: the least squares' slope of the logarithms; none of one point."""
    logs = [(math.log(x), math.log(max(y, .001))) for x, y in points]
    if len(logs) < 2:
        return None
    mean_x, mean_y = (sum(each) / len(logs) for each in zip(*logs))
    return sum((x - mean_x) * (y - mean_y) for x, y in logs) / sum((x - mean_x) ** 2 for x, _ in logs)


def digits(number):
    return f"{number:.3f}" if number < 1 else f"{number:.2f}" if number < 10 else f"{number:.1f}"


def curves(sizes):
    """Name -> (bundles, processor seconds), by size."""
    found = {}
    for size, names in sorted(sizes.items(), key=lambda each: int(each[0])):
        for name, each in names.items():
            found.setdefault(name, []).append((int(size), each["processor"]))
    return found


def table(told):
    sizes = dict(sorted(told["sizes"].items(), key=lambda each: int(each[0])))
    powers = {name: exponent(points) for name, points in curves(sizes).items()}
    lines = [f"Measured on {told['date']}: {told['machine']}. Medians; seconds of the whole process.", ""]
    for size, names in sizes.items():
        lines += [f"{int(size):,} bundles:", "",
                  "| what | wall s | processor s | MB | against | its wall s | its processor s | wall ratio | processor ratio |",
                  "|---|---|---|---|---|---|---|---|---|"]
        for name, each in names.items():
            cells = [digits(each["wall"]), digits(each["processor"]), f"{each['mb']:.0f}", each["against"],
                     digits(each["baseline_wall"]), digits(each["baseline_processor"]), f"{each['wall_ratio']:.2f}",
                     f"{each['processor_ratio']:.2f}"]
            lines.append(f"| {name} | {' | '.join(cells)} |")
        lines.append("")
    lines += ["Processor time grows with the bundles to the power of:", "", "| what | power |", "|---|---|"]
    lines += [f"| {name} | {power:.2f} |" for name, power in powers.items() if power is not None]
    return "\n".join(lines)


def apart(labels, least):
    """Heights for labels that would stand on each other, in their order."""
    placed = []
    for height, *rest in sorted(labels):
        placed.append([max(height, placed[-1][0] + least) if placed else height, *rest])
    return placed


def picture(told):
    drawn = {name: points for name, points in curves(told["sizes"]).items() if name in DRAWN}
    xs = [x for points in drawn.values() for x, _ in points]
    ys = [max(y, .001) for points in drawn.values() for _, y in points]
    x_from, x_to = math.log10(min(xs)), math.log10(max(max(xs), min(xs) * 10))
    y_from, y_to = math.floor(math.log10(min(ys))), math.ceil(math.log10(max(ys)))
    at_x = lambda x: LEFT + (math.log10(x) - x_from) / (x_to - x_from) * (WIDTH - LEFT - RIGHT)  # noqa: E731
    at_y = lambda y: HEIGHT - BOTTOM - (math.log10(max(y, .001)) - y_from) / (y_to - y_from) * (HEIGHT - TOP - BOTTOM)  # noqa: E731
    parts = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" font-family="sans-serif" font-size="13">',
             f'<title>Processor seconds by number of bundles</title><rect width="{WIDTH}" height="{HEIGHT}" fill="#fff"/>']
    for power in range(y_from, y_to + 1):
        height = at_y(10 ** power)
        parts.append(f'<line x1="{LEFT}" x2="{WIDTH - RIGHT}" y1="{height:.1f}" y2="{height:.1f}" stroke="#ddd"/>'
                     f'<text x="{LEFT - 8}" y="{height + 4:.1f}" text-anchor="end">{10.0 ** power:g} s</text>')
    for size in sorted(set(xs)):
        parts.append(f'<line x1="{at_x(size):.1f}" x2="{at_x(size):.1f}" y1="{TOP}" y2="{HEIGHT - BOTTOM}" stroke="#ddd"/>'
                     f'<text x="{at_x(size):.1f}" y="{HEIGHT - BOTTOM + 20}" text-anchor="middle">{size:,}</text>')
    parts.append(f'<text x="{(LEFT + WIDTH - RIGHT) / 2}" y="{HEIGHT - 10}" text-anchor="middle">bundles in the ledger</text>'
                 f'<text x="{LEFT}" y="{TOP - 12}">processor seconds, and the power of the bundles that they follow</text>')
    labels = []
    for number, (name, points) in enumerate(drawn.items()):
        colour = COLOURS[number % len(COLOURS)]
        power = exponent(points)
        path = " ".join(f"{at_x(x):.1f},{at_y(y):.1f}" for x, y in points)
        dashes = ' stroke-dasharray="6 3"' if number >= len(COLOURS) else ""
        parts.append(f'<polyline points="{path}" fill="none" stroke="{colour}" stroke-width="2"{dashes}/>')
        parts += [f'<circle cx="{at_x(x):.1f}" cy="{at_y(y):.1f}" r="3" fill="{colour}"/>' for x, y in points]
        last = points[-1]
        told_power = "" if power is None else f", {power:.2f}"
        labels.append((at_y(last[1]), at_x(last[0]), at_y(last[1]), f"{name}: {digits(last[1])} s{told_power}", colour))
    for height, x, y, text, colour in apart(labels, 17):
        edge = WIDTH - RIGHT + 22
        parts.append(f'<path d="M{x + 4:.1f} {y:.1f}L{edge - 4} {height:.1f}" stroke="{colour}" stroke-width=".7" fill="none"/>'
                     f'<text x="{edge}" y="{height + 4:.1f}" fill="{colour}">{text}</text>')
    return "\n".join([*parts, "</svg>", ""])


def main(results, page, drawing):
    with open(results, encoding="utf-8") as file:
        told = json.load(file)
    with open(page, encoding="utf-8") as file:
        text = file.read()
    text = re.sub(f"{BEGIN}.*{END}", lambda _: f"{BEGIN}\n{table(told)}\n\n{END}", text, flags=re.S)
    with open(page, "w", encoding="utf-8") as file:
        file.write(text)
    with open(drawing, "w", encoding="utf-8") as file:
        file.write(picture(told))


main(*sys.argv[1:])
