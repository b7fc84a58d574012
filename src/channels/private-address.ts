import { BlockList, isIP } from "node:net"

/**
 * Addresses that are not somebody else's on the open network: this machine, the house's own network, links, documentation,
 * groups, and the forms of IPv6 that hide an IPv4 address.
 * Source: IANA's special-purpose address registries for IPv4 and IPv6 (RFC 6890 and updates), from memory.
 */
const SPECIAL: readonly (readonly [address: string, bits: number, family: "ipv4" | "ipv6"])[] = [
  ["0.0.0.0", 8, "ipv4"],
  ["10.0.0.0", 8, "ipv4"],
  ["100.64.0.0", 10, "ipv4"],
  ["127.0.0.0", 8, "ipv4"],
  ["169.254.0.0", 16, "ipv4"],
  ["172.16.0.0", 12, "ipv4"],
  ["192.0.0.0", 24, "ipv4"],
  ["192.0.2.0", 24, "ipv4"],
  ["192.88.99.0", 24, "ipv4"],
  ["192.168.0.0", 16, "ipv4"],
  ["198.18.0.0", 15, "ipv4"],
  ["198.51.100.0", 24, "ipv4"],
  ["203.0.113.0", 24, "ipv4"],
  ["224.0.0.0", 4, "ipv4"],
  ["240.0.0.0", 4, "ipv4"],
  ["::", 96, "ipv6"],
  ["::ffff:0:0", 96, "ipv6"],
  ["64:ff9b::", 96, "ipv6"],
  ["64:ff9b:1::", 48, "ipv6"],
  ["100::", 64, "ipv6"],
  ["2001::", 23, "ipv6"],
  ["2001:db8::", 32, "ipv6"],
  ["2002::", 16, "ipv6"],
  ["3fff::", 20, "ipv6"],
  ["fc00::", 7, "ipv6"],
  ["fe80::", 10, "ipv6"],
  ["fec0::", 10, "ipv6"],
  ["ff00::", 8, "ipv6"],
]

/** One list for each family: in a common one every IPv4 address would fall under `::ffff:0:0/96`. */
const blocked = { ipv4: new BlockList(), ipv6: new BlockList() }
for (const [address, bits, family] of SPECIAL) blocked[family].addSubnet(address, bits, family)

/** Is this no address of the open network? What is no address at all counts as private. */
export function isPrivateAddress(address: string): boolean {
  const plain = address.replace(/^\[|\]$/g, "").replace(/%.*$/, "")
  switch (isIP(plain)) {
    case 4:
      return blocked.ipv4.check(plain, "ipv4")
    case 6:
      return blocked.ipv6.check(plain, "ipv6")
    default:
      return true
  }
}
