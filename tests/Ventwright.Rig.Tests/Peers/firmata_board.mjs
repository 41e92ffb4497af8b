// A board with Firmata, for the tests: the firmware that the node-pixel package ships for an ATmega328P board (Firmata with I2C, built by others), run on the
// simulated chip of avr8js. The serial port is standard input and output; socat makes a terminal of them. On the I2C bus hang two chips as their data sheets
// have them: a digital potentiometer (MCP45xx, 8 bits) at 0x2c and a converter (ADS1115) at 0x48 whose input 0 sees 4 V times the wiper's share, input 1 1.5 V.
// Pin 8 is joined to pin 4; A0 carries 2.5 V.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
const require = createRequire(import.meta.url);
const avr = require('avr8js');

const hex = readFileSync(new URL('./node_modules/node-pixel/firmware/bin/firmata/uno/node_pixel_firmata.ino.hex', import.meta.url), 'ascii');
const program = new Uint8Array(0x8000).fill(0xff);
for (const line of hex.split('\n')) {
  if (line[0] !== ':' || line.slice(7, 9) !== '00') continue;
  const bytes = Buffer.from(line.slice(1).trim(), 'hex');
  program.set(bytes.subarray(4, 4 + bytes[0]), bytes.readUInt16BE(1));
}

const hertz = 16e6;
const cpu = new avr.CPU(new Uint16Array(program.buffer));
const portB = new avr.AVRIOPort(cpu, avr.portBConfig);
new avr.AVRIOPort(cpu, avr.portCConfig);
const portD = new avr.AVRIOPort(cpu, avr.portDConfig);
new avr.AVRClock(cpu, hertz);
new avr.AVRTimer(cpu, avr.timer0Config);
new avr.AVRTimer(cpu, avr.timer1Config);
new avr.AVRTimer(cpu, avr.timer2Config);
const adc = new avr.AVRADC(cpu, avr.adcConfig);
adc.channelValues[0] = 2.5;
portB.addListener(() => portD.setPin(4, portB.pinState(0) === avr.PinState.High));

class Potentiometer {
  wiper = 128;
  bytes = [];
  start() { this.bytes = []; this.sent = 0; }
  write(value) {
    this.bytes.push(value);
    if (this.bytes.length === 2 && (this.bytes[0] & 0x0c) === 0 && this.bytes[0] >> 4 === 0) this.wiper = Math.min(256, ((this.bytes[0] & 3) << 8) | value);
  }
  read() { return this.sent++ % 2 === 0 ? this.wiper >> 8 : this.wiper & 0xff; }
}

class Converter {
  registers = [0, 0x8583];
  pointer = 0;
  constructor(volts) { this.volts = volts; }
  start() { this.bytes = []; this.sent = 0; }
  write(value) {
    this.bytes.push(value);
    if (this.bytes.length === 1) this.pointer = value & 3;
    if (this.bytes.length !== 3 || this.pointer !== 1) return;
    const config = (this.bytes[1] << 8) | this.bytes[2];
    const fullScale = [6.144, 4.096, 2.048, 1.024, 0.512, 0.256, 0.256, 0.256][(config >> 9) & 7];
    const mux = (config >> 12) & 7;
    const volts = mux >= 4 ? this.volts(mux - 4) : 0;
    this.registers[0] = Math.max(-32768, Math.min(32767, Math.round((volts / fullScale) * 32768))) & 0xffff;
    this.registers[1] = config | 0x8000;
  }
  read() { const value = this.registers[this.pointer] ?? 0; return this.sent++ % 2 === 0 ? value >> 8 : value & 0xff; }
}

const pot = new Potentiometer();
const chips = new Map([[0x2c, pot], [0x48, new Converter(input => (input === 0 ? (4 * pot.wiper) / 256 : input === 1 ? 1.5 : 0))]]);
const twi = new avr.AVRTWI(cpu, avr.twiConfig, hertz);
let chip;
twi.eventHandler = {
  start() { twi.completeStart(); },
  stop() { chip = undefined; twi.completeStop(); },
  connectToSlave(address) { chip = chips.get(address); chip?.start(); twi.completeConnect(chip !== undefined); },
  writeByte(value) { chip?.write(value); twi.completeWrite(chip !== undefined); },
  readByte() { twi.completeRead(chip ? chip.read() : 0xff); },
};

const serial = new avr.AVRUSART(cpu, avr.usart0Config, hertz);
// The simulated port forgets a byte that has come in but was not fetched yet in two ways that a real chip does not (ATmega328P data sheet, section on the USART's
// registers): its flags can be written away, though they are for reading only, when the firmware writes the status register, as it does with every byte that it
// sends; and they are cleared when it writes the control register, as it does whenever it begins or ends to send, and not only when the receiver is switched off.
const control = avr.usart0Config.UCSRB;
const status = avr.usart0Config.UCSRA;
const received = 0x80, readOnly = 0xbc;
const writeStatus = cpu.writeHooks[status];
cpu.writeHooks[status] = (...written) => {
  const kept = cpu.data[status] & readOnly;
  const isDone = writeStatus(...written);
  cpu.data[status] |= kept;
  return isDone;
};
const writeControl = cpu.writeHooks[control];
cpu.writeHooks[control] = (...written) => {
  const isWaiting = (cpu.data[status] & received) !== 0;
  const isDone = writeControl(...written);
  if (isWaiting) cpu.setInterruptFlag(serial.RXC);
  return isDone;
};
let outgoing = [];
const incoming = [];
serial.onByteTransmit = value => outgoing.push(value);
const feed = () => { if (incoming.length > 0 && serial.writeByte(incoming[0])) incoming.shift(); };
serial.onRxComplete = feed;
process.stdin.on('data', data => incoming.push(...data));
process.stdin.on('end', () => process.exit(0));

// About real time: the chip runs until it has caught up with the clock, then the program sleeps. On a slow computer it is slow, and nothing else.
let began = process.hrtime.bigint();
function run() {
  const due = Number(process.hrtime.bigint() - began) * 1e-9 * hertz;
  if (due - cpu.cycles > hertz / 10) began += BigInt(Math.round(((due - cpu.cycles - hertz / 10) / hertz) * 1e9));
  const until = cpu.cycles + Math.min(Math.max(due - cpu.cycles, 0), hertz / 50);
  while (cpu.cycles < until) {
    for (let i = 0; i < 500; i++) { avr.avrInstruction(cpu); cpu.tick(); }
    feed();
  }
  if (outgoing.length > 0) { process.stdout.write(Buffer.from(outgoing)); outgoing = []; }
  setTimeout(run, 1);
}
run();
