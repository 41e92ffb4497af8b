"""A Modbus server made of the pymodbus library. Usage: modbus_server.py tcp PORT | rtu DEVICE.

Unit 3. Coils and discrete inputs: address 2 on. Holding registers: 0 = 1234, 1 = 65526 (-10), 2..3 = float 21.5, 4..5 = 100000 low half first.
Input registers: 0 = 1790. On the serial line no parity is set: pyserial cannot on a pseudo-terminal. A line on standard input such as "coil 5" or "holding 7" is answered with what stands there.
"""
import asyncio
import struct
import sys
import threading

from pymodbus.datastore import ModbusSequentialDataBlock, ModbusServerContext, ModbusSlaveContext
from pymodbus.device import ModbusDeviceIdentification
from pymodbus.server import StartAsyncSerialServer, StartAsyncTcpServer
from pymodbus.transaction import ModbusRtuFramer, ModbusSocketFramer

bits = [False] * 16
bits[2] = True
registers = [1234, 65526, *struct.unpack(">HH", struct.pack(">f", 21.5)), 100000 & 0xFFFF, 100000 >> 16] + [0] * 10
unit = ModbusSlaveContext(
    co=ModbusSequentialDataBlock(0, list(bits)), di=ModbusSequentialDataBlock(0, list(bits)),
    hr=ModbusSequentialDataBlock(0, registers), ir=ModbusSequentialDataBlock(0, [1790] + [0] * 15), zero_mode=True)
context = ModbusServerContext(slaves={3: unit}, single=False)
identity = ModbusDeviceIdentification(info_name={"VendorName": "Invented", "ProductCode": "R8", "MajorMinorRevision": "1.0"})


def answer():
    for line in sys.stdin:
        table, address = line.split()
        code = {"coil": 1, "discrete": 2, "holding": 3, "input": 4}[table]
        print(int(unit.getValues(code, int(address), 1)[0]), flush=True)


def ready(_=None):
    print("ready", flush=True)


async def main():
    threading.Thread(target=answer, daemon=True).start()
    if sys.argv[1] == "tcp":
        server = await StartAsyncTcpServer(context=context, identity=identity, address=("127.0.0.1", int(sys.argv[2])), framer=ModbusSocketFramer, defer_start=True)
        server.serving.add_done_callback(ready)
    else:
        server = await StartAsyncSerialServer(
            context=context, identity=identity, port=sys.argv[2], framer=ModbusRtuFramer, baudrate=19200, timeout=1, defer_start=True)
        await server.start()
        ready()
    await server.serve_forever()


asyncio.run(main())
