#!/usr/bin/env python3
"""An independent total of the worked medal, in Python with exact fractions.

It shares nothing with the program: it makes the field and the files of tests/competition/medal (`--make`), and works the
result out from its own tables of ratings, par and stroke index (`--total`, committed as tests/competition/expected.json).
Run in this folder: python3 oracle.py --make && python3 oracle.py --total > expected.json

Sources: Rules of Handicapping 6.1a, 6.2, 6.2b, Appendix C and E (2024); Rules of Golf 21.1b (2023); Committee Procedures
5A(6), older text (net: half, third, sixth, eighteenth of the handicap, fractions kept).
"""
import json
import pathlib
import random
import shutil
import sys
from fractions import Fraction as F

HERE = pathlib.Path(__file__).resolve().parent
OUT = HERE / "medal"

# The invented course of medal/saltgate.yaml.
PAR = {
    "men": [4, 3, 5, 4, 4, 3, 4, 5, 4, 4, 4, 3, 5, 4, 4, 3, 4, 5],
    "women": [4, 3, 5, 5, 4, 3, 4, 5, 4, 4, 5, 3, 5, 4, 4, 3, 4, 5],
}
SI = {
    "men": [13, 5, 11, 1, 9, 17, 3, 7, 15, 12, 4, 16, 14, 2, 18, 8, 6, 10],
    "women": [11, 13, 5, 9, 1, 15, 3, 7, 17, 12, 6, 18, 10, 2, 14, 16, 4, 8],
}
TEES = {
    ("Gull", "men"): (F("72.1"), 131),
    ("Gull", "women"): (F("77.9"), 143),
    ("Tern", "men"): (F("69.8"), 125),
    ("Tern", "women"): (F("74.6"), 134),
}
FIRST = "Ada Bram Cato Dara Edda Finn Gale Hale Iris Joss Kaya Lorn Mira Nils Orla Piet Quin Rosa Sven Tova Ulla Vigo Wynn Xenia Yara Zeno".split()
LAST = "Abery Birkett Corrie Drewe Elsmore Fenwick Garth Holm Inskip Jarvie Kell Lund Marr Nocker Orrin Pask Quarles Rede Skane Tarn Udall Vane Wray Yarrow".split()


def half_up(x):
    return (2 * x + 1).__floor__() // 2


def make_field():
    rng = random.Random(20260516)
    names = [f"{a} {b}" for a in FIRST for b in LAST]
    rng.shuffle(names)
    field = []
    for n in range(84):  # 82 entries and two late ones
        card = "women" if n % 3 == 0 else "men"
        index = F(rng.randrange(20, 360), 10)
        if n in (4, 40):
            index = F(-rng.randrange(3, 25), 10)
        tee = {"men": "Gull", "women": "Tern"}[card]
        if n % 11 == 5:
            tee = "Tern"
        field.append({"id": f"M{n + 1:03}", "name": names[n], "card": card, "index": index, "tee": tee,
                      "group": n // 4 + 1, "status": ""})
    # Scores near the handicap, so that many totals are equal.
    for e in field:
        strokes = allot(playing(e, F(95, 100)), e["card"])
        e["scores"] = [max(1, PAR[e["card"]][h] + strokes[h] + rng.choice([-1, 0, 0, 0, 1, 1, 2])) for h in range(18)]
    # A three-way tie for best gross, one of them net too.
    for n, back in ((4, [4, 4, 3, 5, 4, 4, 3, 4, 5]), (7, [4, 4, 3, 5, 4, 4, 3, 4, 5]), (40, [5, 4, 3, 4, 4, 4, 3, 4, 5])):
        field[n]["scores"] = [4, 3, 5, 4, 3, 3, 4, 4, 4] + back
    # A tie for first net that only the fraction of the handicap settles: two cards of one net in one division.
    a, b = field[10], field[13]
    a["card"] = b["card"] = "men"
    a["tee"] = b["tee"] = "Gull"
    a["index"], b["index"] = F("8.0"), F("5.0")
    difference = playing(a, F(95, 100)) - playing(b, F(95, 100))
    base = [4, 3, 4, 4, 4, 3, 4, 4, 4, 4, 4, 3, 4, 4, 3, 3, 4, 4]
    more = list(base)
    for h in range(difference):
        more[(2 * h) % 9 if h % 2 else 9 + (2 * h) % 9] += 1
    a["scores"], b["scores"] = more, list(base)
    return field


def course_handicap(e):
    rating, slope = TEES[(e["tee"], e["card"])]
    return e["index"] * F(slope, 113) + rating - sum(PAR[e["card"]])


def playing(e, allowance):
    # The men's par is the lowest of the field: 72; the women's is 74 (6.2b).
    return half_up(course_handicap(e) * allowance) + sum(PAR[e["card"]]) - 72


def stableford_handicap(e, allowance):
    return half_up(course_handicap(e) * allowance)


def allot(handicap, card):
    full, rest = divmod(handicap, 18)
    return [full + (1 if SI[card][h] <= rest else 0) for h in range(18)]


def net_key(e, handicap):
    s = e["scores"]
    return [F(sum(s[18 - n:])) - F(handicap * n, 18) for n in (9, 6, 3, 1)]


def rank(lines, steps, lot=None):
    """lines: (figure, key, e); the best figure and key are the least."""
    lot = lot or []
    position = {i: n for n, i in enumerate(lot)}
    lines = sorted(lines, key=lambda l: (l[0], l[1], position.get(l[2]["id"], 999), l[2]["name"].lower()))
    out = []
    for n, (figure, key, e) in enumerate(lines):
        same = lambda m: 0 <= m < len(lines) and lines[m][0] == figure and lines[m][1] == key and \
            position.get(lines[m][2]["id"], 999) == position.get(e["id"], 999)
        first = n
        while same(first - 1):
            first -= 1
        last = n
        while same(last + 1):
            last += 1
        tied = first != last
        decided = None
        if last + 1 < len(lines) and lines[last + 1][0] == figure:
            other = lines[last + 1][1]
            for step, mine, theirs in zip(steps, key, other):
                if mine != theirs:
                    decided = step
                    break
            else:
                decided = "lot"
        elif tied:
            decided = "share"
        out.append({"id": e["id"], "place": first + 1, "tied": tied, "decided_by": decided,
                    "figure": int(figure), "key": [str(k) for k in key]})
    return out


STEPS = ["last 9", "last 6", "last 3", "last hole"]
DIVISIONS = [("A", None, F("9.4")), ("B", F("9.5"), F("18.4")), ("C", F("18.5"), None)]
LOT = None


def incidents(field):
    """What happened on the day, on the oracle's own side: what stands, not how it is written."""
    by = {e["id"]: e for e in field}
    by["M020"]["status"] = "WD"
    by["M031"]["status"] = "NR"           # hole 12 was missing: the Committee gave NR
    by["M050"]["status"] = "DQ"           # hole 4 was returned lower than played
    by["M055"]["scores"][6] += 2          # two penalty strokes the player did not know of
    by["M060"]["index"] += F("1.4")       # yesterday's index was in the field
    by["M066"]["status"] = "NS"
    return by


def total(field):
    by = incidents(field)
    del by
    events = []
    for name, low, high in DIVISIONS:
        own = [e for e in field if (low is None or e["index"] >= low) and (high is None or e["index"] <= high)]
        lines = []
        for e in own:
            if not e["status"]:
                ph = playing(e, F(95, 100))
                lines.append((sum(e["scores"]) - ph, net_key(e, ph), e))
        events.append({"name": "medal", "division": name, "order": rank(lines, STEPS, lots(name)) + statuses(own)})
    lines = [(sum(e["scores"]), [], e) for e in field if not e["status"]]
    events.append({"name": "best gross", "division": None, "order": rank(lines, []) + statuses(field)})
    lines = []
    for e in field:
        if not e["status"]:
            strokes = allot(stableford_handicap(e, F(95, 100)), e["card"])
            points = [max(0, 2 + PAR[e["card"]][h] + strokes[h] - e["scores"][h]) for h in range(9)]
            key = [-sum(points[9 - n:]) for n in (6, 3, 1)]
            lines.append((-sum(points), key, e))
    events.append({"name": "front nine", "division": None, "order": rank(lines, STEPS[1:]) + statuses(field)})
    lines = []
    for n in range(0, 20, 2):
        pair = field[n:n + 2]
        best = []
        for h in range(18):
            own = []
            for e in pair:
                if e["status"] and e["status"] != "DQ":
                    continue
                strokes = allot(stableford_handicap(e, F(85, 100)), e["card"])
                own.append(max(0, 2 + PAR[e["card"]][h] + strokes[h] - e["scores"][h]))
            best.append(max(own))
        side = {"id": f"S{n // 2 + 1}", "name": " & ".join(e["name"] for e in pair)}
        lines.append((-sum(best), [-sum(best[18 - k:]) for k in (9, 6, 3, 1)], side))
    events.append({"name": "pairs", "division": None, "order": rank(lines, STEPS)})
    return {"events": events}


def lots(division):
    path = OUT / "changes" / f"lot-{division}.yaml"
    if not path.exists():
        return None
    line = next(l for l in path.read_text().splitlines() if l.startswith("to:"))
    return [i.strip() for i in line.split("[")[1].split("]")[0].split(",")]


def statuses(own):
    order = ["NR", "WD", "DQ", "NS"]
    out = sorted((e for e in own if e["status"]), key=lambda e: (order.index(e["status"]), e["name"].lower()))
    return [{"id": e["id"], "place": None, "status": e["status"]} for e in out]


def index_text(index):
    size = abs(index)
    return ("+" if index < 0 else "") + f"{int(size)}.{int(size * 10) % 10}"


def write_keying(e, keyer, at, scores, total=True):
    folder = OUT / "cards" / e["id"]
    folder.mkdir(parents=True, exist_ok=True)
    text = f'format: keying/1\nid: {e["id"]}\nkeyer: {keyer}\nat: {at}\nscores: "{" ".join(map(str, scores))}"\n'
    if total:
        text += f"written_total: {sum(s for s in scores if isinstance(s, int))}\n"
    (folder / f"{keyer}.yaml").write_text(text + "certified: { marker: yes, player: yes }\n")


def make(field):
    shutil.rmtree(OUT / "cards", ignore_errors=True)
    for sub in ("cards", "rulings", "changes"):
        shutil.rmtree(OUT / sub, ignore_errors=True)
        (OUT / sub).mkdir(parents=True)
    # The spreadsheet of a country with decimal commas: semicolons, a byte order mark, CR LF.
    rows = ["\ufeffid;name;ratings;handicap_index;tee;group;start_time;status"]
    for e in field:
        index = index_text(e["index"]).replace(".", ",")
        late = int(e["id"][1:]) > 82
        tee = e["tee"] if e["tee"] != {"men": "Gull", "women": "Tern"}[e["card"]] or late else ""
        minute = 8 * 60 + 8 * (e["group"] - 1)
        rows.append(f'{e["id"]};{e["name"]};{e["card"]};{index};{tee};{e["group"]};{minute // 60:02}:{minute % 60:02};')
    (OUT / "field.csv").write_text("\r\n".join(rows) + "\r\n", newline="")
    pairs = ["id,player_1,player_2"] + [f"S{n // 2 + 1},{field[n]['id']},{field[n + 1]['id']}" for n in range(0, 20, 2)]
    (OUT / "sides.csv").write_text("\n".join(pairs) + "\n")
    for n, e in enumerate(field):
        if e["id"] in ("M020", "M066"):
            continue
        scores = list(e["scores"])
        if e["id"] == "M031":
            scores[11] = "."
        at = f"2026-05-16T{13 + n // 20:02}:{n % 60:02}:00"
        write_keying(e, "wren", at, scores, e["id"] != "M031")
        write_keying(e, "isla", at.replace("T1", "T1"), scores, e["id"] != "M031")
    def act(folder, name, **keys):
        kind = {"rulings": "ruling", "changes": "change"}[folder]
        lines = [f"format: {kind}/1"] + [f"{k}: {v}" for k, v in keys.items()]
        (OUT / folder / f"{name}.yaml").write_text("\n".join(lines) + "\n")
    committee = {"by": "Committee", "at": "2026-05-16T18:05"}
    s = {e["id"]: e["scores"] for e in field}
    act("changes", "M020-1", id="M020", what="withdrawn", why="unwell after four holes", **committee)
    act("changes", "M031-1", id="M031", what="status", to="NR", why="no score on hole 12", **committee)
    act("changes", "M066-1", id="M066", what="no show", why="did not come to the tee", **committee)
    before = next(e for e in field if e["id"] == "M060")["index"]
    act("changes", "M060-1", id="M060", what="index", **{"from": index_text(before)}, to=index_text(before + F("1.4")),
        why="the index of the day before stood in the field", **committee)
    act("rulings", "M050-1", id="M050", hole=4, returned=s["M050"][3], stands="disqualified", rule="3.3b(3)",
        why="a stroke fewer than taken was returned", **committee)
    act("rulings", "M055-1", id="M055", hole=7, returned=s["M055"][6], stands=s["M055"][6] + 2, rule="3.3b(3)",
        why="two penalty strokes the player did not know of", **committee)


if __name__ == "__main__":
    field = make_field()
    if "--make" in sys.argv:
        make(field)
    elif "--total" in sys.argv:
        print(json.dumps(total(field), indent=1))
