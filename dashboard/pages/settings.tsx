export default function Settings() {
  return <h1>Settings</h1>;
}
