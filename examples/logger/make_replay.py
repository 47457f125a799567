"""Writes the invented samples of a scan, for the image `logger` to replay."""

CYCLE = [0, 2, 3, 1]


class Encoder:
    """Tracks of an encoder that is moved by counts."""

    def __init__(self):
        self.at = 0

    def move(self, counts):
        step = 1 if counts > 0 else -1
        for _ in range(abs(counts)):
            self.at += step
            print("q", CYCLE[self.at % 4])


def main():
    encoder = Encoder()
    # A calibration over 300 mm, eight counts a millimetre, and a second run back over 150 mm.
    print("z")
    encoder.move(2400)
    print("s 300 0.3")
    print("z")
    encoder.move(1200)
    print("c 150 1")
    print("z")
    # Readings every 2.5 mm: an echo that rises and falls.
    for height in [12.0, 21.5, 38.0, 61.5, 76.0, 74.5, 58.0, 33.5, 15.0]:
        encoder.move(20)
        print(f"e 25.{int(height * 10) % 100:02d} {height}")
    # The probe goes back a little.
    encoder.move(-40)
    print("e 25.5 60")
    # The wheel is knocked: both tracks change at once, and nothing is known until the datum is set again.
    encoder.at += 2
    print("q", CYCLE[encoder.at % 4])
    print("e 25.5 60")
    print("z")
    print("e 25.5 60")
    # Draw-wires: two places, two that cannot be, and an echo before the sound has entered the part.
    for wires in ["300 400", "310.5 388.2", "200 250", "250 250.1"]:
        print("w", wires)
        print("v 27.25 55.5")
    print("w 300 400")
    print("v 1.5 55.5")
    # A second run that slipped takes the scale away.
    print("z")
    encoder.move(1160)
    print("c 150 1")
    print("e 25.5 60")


main()
