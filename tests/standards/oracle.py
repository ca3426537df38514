"""An index worked out a second time, from the text of the Rules of Handicapping alone, with exact fractions.

Writes `oracle.csv`, random records with the index after every score; `oracle.rs` holds the program to it. Run it again
after a change of the rules: `python3 tests/standards/oracle.py > tests/standards/oracle.csv`. Standard library only.
"""
import random
from datetime import date, timedelta
from fractions import Fraction as F
from math import floor

USED = {3: (1, -2), 4: (1, -1), 5: (1, 0), 6: (2, -1), 7: (2, 0), 8: (2, 0), 9: (3, 0), 10: (3, 0), 11: (3, 0),
        12: (4, 0), 13: (4, 0), 14: (4, 0), 15: (5, 0), 16: (5, 0), 17: (6, 0), 18: (6, 0), 19: (7, 0)}


def tenth(x):
    """5.1a, 5.1c: nearest tenth, halves upwards."""
    return F(floor(x * 10 + F(1, 2)), 10)


def index_of(differentials, low):
    """5.2a, 5.2b, 5.3, 5.8."""
    recent = differentials[-20:]
    if len(recent) < 3:
        return None
    used, adjustment = USED.get(len(recent), (8, 0))
    value = tenth(sum(sorted(recent)[:used], F(0)) / used) + adjustment
    if low is not None and value - low > 3:
        value = min(low + 3 + (value - low - 3) / 2, low + 5)
    return min(tenth(value), F(54))


def work(scores):
    """5.1a, 5.7, 5.9; a day's index is issued at its end."""
    differentials, issued, rows = [], {}, []
    for day, gross, rating, slope, pcc in scores:
        before = [d for d in sorted(issued) if d < day]
        in_effect = issued[before[-1]] if before else None
        raw = F(113, slope) * (gross - rating - pcc)
        # 5.7: with twenty scores, the lowest of the year up to the most recent score; the days before this one count.
        earlier = [s for s in scores if s[0] < day]
        low = None
        if len(earlier) >= 20:
            last = max(s[0] for s in earlier)
            low = min(v for d, v in issued.items() if d < day and d >= last - timedelta(days=365))
        differentials.append(tenth(raw))
        exceptional = 0
        if in_effect is not None and in_effect - raw >= 7:
            exceptional = -2 if in_effect - raw >= 10 else -1
            for at in range(max(0, len(differentials) - 20), len(differentials)):
                differentials[at] += exceptional
        value = index_of(differentials, low)
        if value is not None:
            issued[day] = value
        now = None
        if len(differentials) >= 20:
            now = min(v for d, v in issued.items() if d >= day - timedelta(days=365))
        rows.append((tenth(raw), exceptional, now, value))
    return rows


def text(x):
    return "" if x is None else f"{float(x):.1f}"


def main():
    random.seed(20260516)
    print("record,date,adjusted_gross,rating,slope,pcc,differential,exceptional,low,index")
    for record in range(60):
        day = date(2020, 1, 1) + timedelta(days=random.randrange(400))
        level = random.choice([70, 78, 86, 94, 104, 118])
        scores = []
        for _ in range(random.choice([2, 4, 6, 9, 15, 20, 22, 40, 70])):
            day += timedelta(days=random.choice([0, 0, 1, 3, 7, 14, 14, 40, 120]))
            level += random.choice([-1, 0, 0, 0, 1, 1])
            gross = level + random.choice([-12, -6, -4, -3, -2, -1, 0, 0, 1, 2, 3, 4, 6, 9, 14])
            scores.append((day, gross, F(random.randrange(660, 760), 10), random.randrange(55, 156),
                           random.choice([-1, 0, 0, 0, 0, 1, 2, 3])))
        for (day, gross, rating, slope, pcc), row in zip(scores, work(scores)):
            differential, exceptional, low, value = row
            print(f"{record},{day},{gross},{text(rating)},{slope},{pcc},{text(differential)},{exceptional},{text(low)},{text(value)}")


main()
