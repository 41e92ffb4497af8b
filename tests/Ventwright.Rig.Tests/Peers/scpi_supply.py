"""A bench supply that speaks SCPI, with plain sockets: simulated instruments as libraries have them live inside the asking program, not at the end of a line.
Usage: scpi_supply.py PORT (0 for standard input and output).

Knows *IDN?, *CLS, VOLT, VOLT?, OUTP, OUTP?, MEAS:CURR?, SYST:ERR?; errors as SCPI-1999 numbers them. MEAS:RES? is over range (9.9E37); WAIT? answers after a minute. Each connection is served by itself.
"""
import socket
import sys
import threading
import time

state = {"volt": 0.0, "outp": False}
errors = []


def handle(line):
    head, _, argument = line.strip().partition(" ")
    head = head.upper()
    if head == "*IDN?":
        return "INVENTED,BS-30,0042,1.3"
    if head == "*CLS":
        errors.clear()
    elif head == "VOLT":
        value = float(argument)
        if 0 <= value <= 30:
            state["volt"] = value
        else:
            errors.append('-222,"Data out of range"')
    elif head == "VOLT?":
        return f"{state['volt']:+.5E}"
    elif head == "OUTP":
        state["outp"] = argument.upper() in ("ON", "1")
    elif head == "OUTP?":
        return "1" if state["outp"] else "0"
    elif head == "MEAS:CURR?":
        return "+1.750000E+00" if state["outp"] else "+0.000000E+00"
    elif head == "MEAS:RES?":
        return "9.9E37"
    elif head == "WAIT?":
        time.sleep(60)
        return "1"
    elif head == "SYST:ERR?":
        return errors.pop(0) if errors else '0,"No error"'
    elif line.strip():
        errors.append('-113,"Undefined header"')
    return None


def serve(lines, write):
    for line in lines:
        answer = handle(line)
        if answer is not None:
            write(answer + "\r\n")


def serve_connection(connection):
    with connection, connection.makefile("rw", newline="\n") as stream:
        try:
            serve(stream, lambda text: (stream.write(text), stream.flush()))
        except (BrokenPipeError, ConnectionResetError):
            pass


if sys.argv[1] == "0":
    serve(sys.stdin, lambda text: (sys.stdout.write(text), sys.stdout.flush()))
else:
    server = socket.create_server(("127.0.0.1", int(sys.argv[1])))
    print("ready", flush=True)
    while True:
        threading.Thread(target=serve_connection, args=(server.accept()[0],), daemon=True).start()
