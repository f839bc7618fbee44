import { crc32, deflateRawSync } from "node:zlib";

/** A zip file of these parts. `declared` lies about how large a part is when unpacked. */
export function zipBytes(parts: Record<string, string | Buffer>, declared: Record<string, number> = {}): Buffer {
  const bodies: Buffer[] = [];
  const directory: Buffer[] = [];
  let at = 0;
  for (const [name, content] of Object.entries(parts)) {
    const plain = Buffer.from(content);
    const packed = deflateRawSync(plain);
    const fields = Buffer.alloc(26); // from "version needed" to "extra field length": the same in both headers
    fields.writeUInt16LE(20, 0);
    fields.writeUInt16LE(8, 4);
    fields.writeUInt16LE(0x21, 8);
    fields.writeUInt32LE(crc32(plain), 10);
    fields.writeUInt32LE(packed.length, 14);
    fields.writeUInt32LE(declared[name] ?? plain.length, 18);
    fields.writeUInt16LE(Buffer.byteLength(name), 22);
    const body = Buffer.concat([Buffer.from("PK\x03\x04"), fields, Buffer.from(name), packed]);
    const place = Buffer.alloc(14);
    place.writeUInt32LE(at, 10);
    directory.push(Buffer.concat([Buffer.from("PK\x01\x02\x14\x00"), fields, place, Buffer.from(name)]));
    bodies.push(body);
    at += body.length;
  }
  const entries = Buffer.concat(directory);
  const end = Buffer.alloc(18);
  end.writeUInt16LE(directory.length, 4);
  end.writeUInt16LE(directory.length, 6);
  end.writeUInt32LE(entries.length, 8);
  end.writeUInt32LE(at, 12);
  return Buffer.concat([...bodies, entries, Buffer.from("PK\x05\x06"), end]);
}
