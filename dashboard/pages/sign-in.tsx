export default function SignIn() {
  return <h1>SignIn</h1>;
}
