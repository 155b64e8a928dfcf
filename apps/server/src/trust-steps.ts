/**
 * What people do on each kind of device. From memory of the systems of 2025; menus move, and the
 * words in quotes may be a little different on yours.
 */

export type DeviceFamily = 'ipad' | 'android' | 'windows' | 'mac' | 'chromebook' | 'linux';

export interface TrustSteps {
  readonly family: DeviceFamily;
  readonly title: string;
  readonly steps: readonly string[];
}

export const TRUST_STEPS: readonly TrustSteps[] = [
  {
    family: 'ipad',
    title: 'iPad, iPhone',
    steps: [
      'Open this page in Safari; other browsers cannot hand the certificate over.',
      'Tap Fetch above, then Allow. It says that a profile was downloaded.',
      'Settings, General, “VPN & Device Management”: tap the profile, compare the fingerprint under More Details, then Install.',
      'Settings, General, About, at the very bottom “Certificate Trust Settings”: switch it on. Without this last switch nothing has changed.',
      'After step 4, Share, “Add to Home Screen”: only an installed page keeps its entries for more than a week unused.',
    ],
  },
  {
    family: 'android',
    title: 'Android tablet or phone',
    steps: [
      'Tap Fetch above. Most systems do not open the file by themselves: it lies in Downloads.',
      'Settings, Security, “Encryption & credentials” (on some under “More security settings”): “Install a certificate”, “CA certificate”, “Install anyway”, and choose the file. A screen lock must be set.',
      'Compare: “Trusted credentials”, User, tap the entry; the SHA-256 fingerprint is at the bottom.',
      'Chrome takes it at once. Firefox has a switch of its own under Settings, Secret Settings, “Use third party CA certificates”.',
      'The notice “network may be monitored” that appears now and then means this certificate. It can vouch for this brewhouse only.',
    ],
  },
  {
    family: 'windows',
    title: 'Windows computer',
    steps: [
      'Fetch it and open the file. “Details”, “Thumbprint” shows another, shorter sum; for SHA-256 run: certutil -hashfile ladlework-authority.crt SHA256',
      '“Install Certificate”, “Current User”, “Place all certificates in the following store”, Browse, “Trusted Root Certification Authorities”, Finish, Yes.',
      'Close the browser and open it again.',
    ],
  },
  {
    family: 'mac',
    title: 'Mac',
    steps: [
      'Fetch it and open the file; Keychain Access asks where to: the login keychain.',
      'In Keychain Access double-click the entry, compare the fingerprint under Details, open Trust, “When using this certificate: Always Trust”, close, and give your password.',
      'Safari and Chrome take it at once; Firefox after a restart.',
    ],
  },
  {
    family: 'chromebook',
    title: 'Chromebook',
    steps: [
      'Fetch it.',
      'Settings, “Privacy and security”, Security, “Manage certificates”, Authorities, Import: choose the file, tick “Trust this certificate for identifying websites”.',
      'Click the entry to compare the fingerprint.',
    ],
  },
  {
    family: 'linux',
    title: 'Linux computer',
    steps: [
      'Chromium and Chrome: Settings, “Privacy and security”, Security, “Manage certificates”, Local certificates, “Trusted certificates”, Import.',
      'Firefox: Settings, “Privacy & Security”, “View Certificates”, Authorities, Import, tick “identify websites”.',
      'Compare with: openssl x509 -in ladlework-authority.pem -noout -fingerprint -sha256',
    ],
  },
];

/**
 * The kind of device a browser says it runs on, for opening the right steps. An iPad that calls
 * itself a Mac gets the Mac's; all of them are on the page.
 *
 * @param agent User-Agent header
 */
export function familyOf(agent: string): DeviceFamily {
  if (/iPhone|iPad|iPod/.test(agent)) return 'ipad';
  if (/Android/.test(agent)) return 'android';
  if (/CrOS/.test(agent)) return 'chromebook';
  if (/Windows/.test(agent)) return 'windows';
  if (/Macintosh|Mac OS X/.test(agent)) return 'mac';
  return 'linux';
}
