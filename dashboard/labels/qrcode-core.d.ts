declare module 'qrcode/lib/core/qrcode.js' {
  export { create } from 'qrcode';
}
