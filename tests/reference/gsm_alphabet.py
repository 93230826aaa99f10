"""Writes gsm-alphabet.csv: every character of the Basic Multilingual Plane that the GSM 03.38 codec of the Python
package gsm0338 can encode. Only needed to renew the file: pip install gsm0338==1.1.0 && python3 gsm_alphabet.py
"""

import csv
import importlib.metadata
import pathlib
import sys

from gsm0338 import Codec

codec = Codec()
version = importlib.metadata.version("gsm0338")
rows = []
for point in range(0x10000):
    if 0xD800 <= point <= 0xDFFF:
        continue  # Half a surrogate pair is no character.
    if point == 0x1B:
        # The codec encodes U+001B as the escape itself. 3GPP TS 23.038 6.2.1 makes 0x1B the escape to the extension
        # table, which stands for no character: left out.
        continue
    try:
        octets, _ = codec.encode(chr(point))
    except UnicodeEncodeError:
        continue
    rows.append((f"{point:04X}", len(octets), octets.hex().upper()))

target = pathlib.Path(__file__).with_name("gsm-alphabet.csv")
with target.open("w", newline="") as file:
    file.write(f"# Made by gsm_alphabet.py with PyPI gsm0338 {version}, Python {sys.version.split()[0]}.\n")
    file.write("# Every character of U+0000..U+FFFF that it encodes, but U+001B: see the script. Others are not GSM.\n")
    writer = csv.writer(file, lineterminator="\n")
    writer.writerow(("code_point", "septets", "code"))
    writer.writerows(rows)
print(len(rows), "characters")
