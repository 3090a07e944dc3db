/**
 * The text of a new device profile: every part of the format once, with what to write there. The lines that only show how
 * are comments, so that a new profile states nothing that nobody has said yet.
 */

/** `Hive scale` becomes `hive-scale.device.yaml`. */
export function profileFileName(device: string): string {
  const stem = device.trim().toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-+|-+$/g, '');
  return `${stem === '' ? 'device' : stem}.device.yaml`;
}

export function startingProfile(device: string): string {
  return `# Device profile: what the peripheral offers and where the application must run. Linkwright reads it while you type;
# the profile nearest upward from a source file is in force.

device:
  name: ${JSON.stringify(device)}

# The oldest systems that you support decide which limits hold.
# Left out: the API levels are taken from build.gradle or build.gradle.kts, where it states them.
# targets:
#   android:
#     minimum: 26        # API level (minSdk)
#     target: 36         # API level (targetSdk)
#   browser:
#     minimum:
#       chrome: 120
#     platforms: [android]

# link:
#   att_mtu:
#     requested: 247     # bytes; what the application asks for
#     negotiated: 185    # bytes; what the peripheral and the phones agree on
#   peripherals: 1       # held connected at once

# UUIDs are read as written: 4, 8 or 32 hexadecimal digits, no quotes needed.
# services:
#   - uuid: 180F
#     name: Battery
#     characteristics:
#       - uuid: 2A19
#         name: Battery level
#         properties: [read, notify]   # as in the Core Specification
#         size: 1                      # bytes, or { minimum: 1, maximum: 20 }
#         security:
#           read: none                 # none, encryption, authentication, authorization

# Functions through which every operation must go: Class.function.
# queue:
#   - OperationQueue.enqueue

# Functions that end the link.
# teardown:
#   - DeviceLink.close
`;
}
