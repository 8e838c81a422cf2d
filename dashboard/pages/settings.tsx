import { Audit } from '../settings/audit.tsx';
import { FarmForm } from '../settings/farm-form.tsx';
import { Limits } from '../settings/limits.tsx';
import { Look } from '../settings/look.tsx';
import { People, Tokens } from '../settings/people.tsx';
import { Server } from '../settings/server.tsx';
import { Sites } from '../settings/sites.tsx';
import { Tellings } from '../settings/tellings.tsx';
import { Words } from '../settings/words.tsx';
import { You } from '../settings/you.tsx';
import { mayKeep } from '../state/session.ts';

export default function Settings() {
  return (
    <>
      <header class="page-head">
        <h1>Settings</h1>
      </header>
      <div class="settings-page">
        <You />
        <Look />
        <Sites />
        {mayKeep.value && <FarmForm />}
        {mayKeep.value && <Tellings />}
        <Limits />
        {mayKeep.value && <People />}
        {mayKeep.value && <Tokens />}
        <Server />
        {mayKeep.value && <Audit />}
        <Words />
      </div>
    </>
  );
}
